// Understanding a journal's columns.
#include "alarms/journal_plan.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <initializer_list>
#include <span>
#include <string_view>
#include <utility>

#include "alarms/event_words.hpp"
#include "ingest/apply_map.hpp"
#include "ingest/date_order.hpp"
#include "ingest/missing.hpp"
#include "ingest/table_survey.hpp"
#include "ingest/text_columns.hpp"
#include "ingest/text_roles.hpp"
#include "ingest/time_columns.hpp"
#include "ingest/time_words.hpp"
#include "ingest/understand.hpp"
#include "support/safe_text.hpp"

namespace telltale::host {
namespace {

using Words = std::span<const std::string_view>;

constexpr std::string_view kOnWords[] = {
    "on",          "start",    "started", "begin",    "begins",   "beginn",
    "raised",      "raise",    "came",    "from",     "active",   "activated",
    "set",         "occurred", "kommt",   "gekommen", "debut",    "inicio",
    "inizio",      "van",      "fra",     "onset",    "appeared", "triggered",
    "annunciated", "alarm"};
constexpr std::string_view kOffWords[] = {
    "off",  "end",  "ended",    "ends",   "cleared", "clear", "gone",
    "went", "to",   "until",    "reset",  "rtn",     "ende",  "gegangen",
    "fin",  "stop", "returned", "normal", "closed",  "bis",   "geht",
    "tot",  "til",  "resolved", "finish", "inactive"};
constexpr std::string_view kNameWords[] = {
    "alarm",     "alarms",  "tag",      "fault",   "faults", "event",
    "message",   "point",   "signal",   "warning", "trip",   "code",
    "meldung",   "storung", "stoerung", "fehler",  "alarme", "defaut",
    "alarma",    "allarme", "storing",  "melding", "alm",    "dtc",
    "condition", "item",    "tagname",  "variable"};
constexpr std::string_view kTextWords[] = {
    "description",  "text",    "descr",   "desc",
    "beschreibung", "comment", "details", "long"};
constexpr std::string_view kPriorityWords[] = {
    "priority", "prio",      "severity",   "class",      "level",
    "category", "cat",       "prioritat",  "prioritaet", "klasse",
    "priorite", "prioridad", "importance", "kind",       "type"};
constexpr std::string_view kStateWords[] = {
    "state",   "status", "action", "transition", "edge",     "event",
    "zustand", "etat",   "estado", "stato",      "toestand", "tilstand",
    "active",  "value",  "type",   "change",     "onoff",    "on"};
constexpr std::string_view kDurationWords[] = {
    "duration", "dauer",  "duree",    "duracion", "durata",
    "duur",     "length", "varighet", "standing"};

bool says(const HeaderName& header, Words words) {
  return std::any_of(header.tokens.begin(), header.tokens.end(),
                     [&](const std::string& token) {
                       return std::find(words.begin(), words.end(), token) !=
                              words.end();
                     });
}

bool says(const HeaderName& header,
          std::initializer_list<std::string_view> words) {
  return says(header, Words(words.begin(), words.size()));
}

bool is_moment(StampKind kind) {
  return kind == StampKind::calendar || kind == StampKind::epoch ||
         kind == StampKind::serial;
}

// Cells of a column that say what happened, as shares of those that are not
// blank.
struct Happenings {
  std::size_t came = 0;
  std::size_t went = 0;
  std::size_t other = 0;
};

Happenings happenings_of(const ColumnStats& stats) {
  Happenings h;
  const auto count = [&h](std::string_view text, std::size_t times) {
    const auto kind = event_of_text(text);
    if (!kind) {
      h.other += times;
    } else if (*kind == EventKind::cleared) {
      h.went += times;
    } else {
      h.came += times;
    }
  };
  for (const auto& [word, times] : stats.words) count(word, times);
  for (const double value : stats.values) {
    value == 0.0 ? ++h.went : value == 1.0 ? ++h.came : ++h.other;
  }
  return h;
}

bool is_yes_no(const Column& column) {
  const ColumnStats& stats = column.stats;
  if (stats.numbers + stats.texts == 0) return false;
  return std::all_of(stats.values.begin(), stats.values.end(),
                     [](double v) { return v == 0.0 || v == 1.0; }) &&
         std::all_of(stats.words.begin(), stats.words.end(), [](const auto& w) {
           return means_yes(w.first) || means_no(w.first);
         });
}

class Planner {
 public:
  Planner(const ByteStore& store, const ReadOptions& options, const LogMap* map,
          TableSurvey table)
      : store_(store), options_(options), map_(map), t_(std::move(table)) {}

  Result<std::optional<JournalPlan>> run() {
    settle_dialect();
    if (map_ != nullptr) {
      if (auto error = apply_map_columns(*map_, store_.name(), t_.columns)) {
        return *error;
      }
    }
    if (!find_time()) return std::optional<JournalPlan>();
    find_columns();
    if (!choose_shape()) return std::optional<JournalPlan>();
    if (auto error = settle_time()) return *error;
    hand_over();
    return std::optional<JournalPlan>(std::move(plan_));
  }

 private:
  void settle_dialect() {
    LogLayout& layout = plan_.survey.layout;
    DecodePlan& plan = plan_.survey.plan;
    plan_.survey.encoding = t_.encoding;
    layout.file = store_.name();
    layout.bytes = store_.size();
    layout.encoding = name_of(t_.encoding.encoding);
    plan.delimiter = layout.delimiter = t_.delimiter;
    plan.decimal = layout.decimal = t_.decimal.mark;
    if (!t_.place.header) return;
    const Table::Row& header = t_.table.rows[*t_.place.header];
    layout.header_line = plan.header_line = header.line;
    plan.header_text = header.record->text;
    while (!plan.header_text.empty() && plan.header_text.back() == '\r') {
      plan.header_text.pop_back();
    }
  }

  bool find_time() {
    std::vector<bool> taken;
    taken.reserve(t_.columns.size());
    for (const Column& column : t_.columns) {
      taken.push_back(!column.use.why.empty());
    }
    if (map_ != nullptr && map_->time) {
      auto mapped =
          time_of_map(*map_, store_.name(), t_.table, t_.rows, t_.columns);
      if (!mapped) return false;
      time_ = std::move(*mapped);
      return true;
    }
    const auto all = find_time_candidates(t_.table, t_.rows, t_.columns);
    auto chosen = choose_time_columns(all, taken);
    if (!chosen) return false;
    time_ = std::move(*chosen);
    // A beginning beside an end tells the row's time.
    for (const TimeCandidate& candidate : all) {
      if (time_.clock || !is_moment(candidate.kind) ||
          candidate.column == time_.main.column) {
        continue;
      }
      const bool better =
          says(t_.columns[candidate.column].header, kOnWords) &&
          !says(t_.columns[candidate.column].header, kOffWords) &&
          says(t_.columns[time_.main.column].header, kOffWords);
      if (better) time_.main = candidate;
    }
    return true;
  }

  [[nodiscard]] bool is_time(std::size_t i) const {
    return i == time_.main.column || (time_.clock && i == time_.clock->column);
  }
  [[nodiscard]] bool is_free(std::size_t i) const {
    return !is_time(i) && t_.columns[i].use.why.empty();
  }
  void take(std::size_t i, std::string name, std::string why,
            std::optional<std::size_t>& slot) {
    slot = i;
    t_.columns[i].use.name = std::move(name);
    t_.columns[i].use.why = std::move(why);
  }

  // The end of a row's alarm: another stamp of the same kind.
  void find_end() {
    for (std::size_t i = 0; i < t_.columns.size(); ++i) {
      if (!is_free(i) || !says(t_.columns[i].header, kOffWords)) continue;
      for (const StampStyle& style : time_.main.styles) {
        auto reader = StampReader::of(style, t_.decimal.mark);
        if (!reader || time_.clock || !is_moment(style.kind)) continue;
        std::size_t read = 0;
        std::size_t other = 0;
        for (const std::size_t row : t_.rows) {
          const auto& cells = t_.table.rows[row].cells;
          if (i >= cells.size() || is_missing_word(cells[i])) continue;
          std::int64_t ms = 0;
          bool zone = false;
          reader->read(cells[i], ms, zone) ? ++read : ++other;
        }
        if (read == 0 || other > read) continue;
        plan_.end_style = style;
        take(i, "time", "when the alarm of the row went", plan_.end);
        return;
      }
    }
  }

  void find_duration() {
    for (std::size_t i = 0; i < t_.columns.size() && !plan_.end; ++i) {
      const Column& column = t_.columns[i];
      if (!is_free(i) || !says(column.header, kDurationWords)) continue;
      const bool spans =
          column.stats.numbers > 0 ||
          std::any_of(
              column.stats.words.begin(), column.stats.words.end(),
              [](const auto& w) { return parse_elapsed(w.first).has_value(); });
      if (!spans) continue;
      for (const auto& [word, seconds] :
           {std::pair<std::string_view, double>{"min", 60.0},
            {"minutes", 60.0},
            {"h", 3600.0},
            {"hours", 3600.0},
            {"ms", 0.001}}) {
        if (says(column.header, {word}) || column.header.unit_text == word) {
          plan_.duration_s = seconds;
        }
      }
      take(i, "", "how long the alarm of the row stood", plan_.duration);
      return;
    }
  }

  void find_bus_codes() {
    for (std::size_t i = 0; i < t_.columns.size(); ++i) {
      const Column& column = t_.columns[i];
      if (!is_free(i) || !column.stats.mostly_numbers()) continue;
      if (says(column.header, {"spn"}) && !plan_.spn) {
        take(i, "alarm", "what is wrong: SPN of SAE J1939", plan_.spn);
      } else if (says(column.header, {"fmi"}) && !plan_.fmi) {
        take(i, "alarm", "in which way: FMI of SAE J1939", plan_.fmi);
      }
    }
  }

  // Of all columns that say on and off in their cells, the likeliest.
  void find_state() {
    int best = 0;
    std::size_t at = 0;
    for (std::size_t i = 0; i < t_.columns.size(); ++i) {
      const Column& column = t_.columns[i];
      if (!is_free(i)) continue;
      const Happenings h = happenings_of(column.stats);
      if (h.came == 0 || h.other * 10 > h.came + h.went + h.other) continue;
      const bool named = says(column.header, kStateWords);
      const bool numeric = column.stats.numbers > column.stats.texts;
      // An alarm of its own says yes and no too.
      if (numeric && !named) continue;
      if (column.stats.words.size() > 12) continue;
      const int score = (h.went > 0 ? 4 : 0) + (named ? 3 : 0) + !numeric;
      if (score > best) {
        best = score;
        at = i;
      }
    }
    if (best >= 3)
      take(at, "state", "what happened: came or went", plan_.state);
  }

  // Columns whose headers say "came" and "went" and whose cells name alarms.
  void find_came_and_went() {
    std::optional<std::size_t> came;
    std::optional<std::size_t> went;
    for (std::size_t i = 0; i < t_.columns.size(); ++i) {
      const Column& column = t_.columns[i];
      if (!is_free(i) || column.stats.texts == 0 || is_yes_no(column)) continue;
      if (says(column.header, kOffWords)) {
        if (!went) went = i;
      } else if (says(column.header, kOnWords) && !came) {
        came = i;
      }
    }
    if (!came || !went || plan_.state || plan_.end) return;
    // Both name the same alarms.
    const auto& words = t_.columns[*came].stats.words;
    const auto& other = t_.columns[*went].stats.words;
    const bool shared = std::any_of(
        words.begin(), words.end(),
        [&](const auto& word) { return other.contains(word.first); });
    if (!shared) return;
    take(*came, "alarm", "names alarms that came", plan_.came);
    take(*went, "alarm", "names alarms that went", plan_.went);
  }

  void find_unit() {
    for (std::size_t i = 0; i < t_.columns.size() && !plan_.unit; ++i) {
      if (!is_free(i)) continue;
      if (take_unit(t_.columns[i])) plan_.unit = i;
    }
    for (std::size_t i = 0; i < t_.columns.size() && !plan_.unit; ++i) {
      const Column& column = t_.columns[i];
      const bool named =
          says(column.header, {"turbine", "pump", "plant", "station", "site",
                               "area", "compressor", "module", "line",
                               "location", "ship", "berth", "quay", "node"});
      if (!is_free(i) || !named || says(column.header, kNameWords) ||
          column.header.tokens.size() > 3) {
        continue;
      }
      std::vector<double> values = column.stats.sorted;
      values.erase(std::unique(values.begin(), values.end()), values.end());
      const std::size_t distinct = values.size() + column.stats.words.size();
      if (distinct == 0 || distinct > 64 || !column.stats.integers) continue;
      take(i, "unit", distinct == 1 ? "names the unit" : "names the units",
           plan_.unit);
    }
  }

  [[nodiscard]] std::size_t distinct_of(const Column& column) const {
    std::vector<double> values = column.stats.sorted;
    values.erase(std::unique(values.begin(), values.end()), values.end());
    return values.size() + column.stats.words.size();
  }

  void find_name() {
    int best = 0;
    std::size_t at = 0;
    for (std::size_t i = 0; i < t_.columns.size(); ++i) {
      const Column& column = t_.columns[i];
      const bool mapped = column.plan.role == Role::alarm;
      if (mapped) {
        take(i, "alarm", "the map says so", plan_.name);
        return;
      }
      if (!is_free(i) || column.stats.cells == column.stats.missing) continue;
      const bool texts = column.stats.texts >= column.stats.numbers;
      const bool named = says(column.header, kNameWords);
      const bool text_named =
          says(column.header, kTextWords) ||
          says(column.header, {"name", "id", "number", "no", "nr"});
      if (!named && !text_named) continue;
      if (!texts && !column.stats.integers) continue;
      if (is_yes_no(column)) continue;
      if (says(column.header, kPriorityWords) && distinct_of(column) <= 8) {
        continue;
      }
      // What has but one text tells no alarms apart, but may be all there is.
      const int score =
          (named ? 8 : 4) + (texts ? 2 : 0) +
          (distinct_of(column) > 1 ? 8 : 0) +
          (says(column.header, {"tag", "alarm", "tagname"}) ? 2 : 0);
      if (score > best) {
        best = score;
        at = i;
      }
    }
    if (best > 0) take(at, "alarm", "names the alarm", plan_.name);
  }

  void find_more_words() {
    for (std::size_t i = 0; i < t_.columns.size(); ++i) {
      const Column& column = t_.columns[i];
      if (!is_free(i)) continue;
      if (!plan_.priority && says(column.header, kPriorityWords) &&
          distinct_of(column) <= 24 && distinct_of(column) > 0) {
        take(i, "", "class or priority of the alarm", plan_.priority);
      } else if (!plan_.text && column.stats.texts > column.stats.numbers &&
                 (says(column.header, kTextWords) ||
                  says(column.header, kNameWords)) &&
                 distinct_of(column) > 1) {
        take(i, "", "more words on the alarm", plan_.text);
      }
    }
  }

  void find_contacts() {
    for (std::size_t i = 0; i < t_.columns.size(); ++i) {
      Column& column = t_.columns[i];
      if (!is_free(i) || !is_yes_no(column)) continue;
      column.use.name = "alarm";
      column.use.why = "an alarm of its own: yes or no";
      plan_.contacts.push_back({i, printable(column.header.text, 80)});
    }
  }

  // Columns of readings: a log over time.
  [[nodiscard]] std::size_t count_channels() const {
    std::vector<Column> copy = t_.columns;
    for (std::size_t i = 0; i < copy.size(); ++i) {
      if (is_time(i)) copy[i].use.why = "time";
    }
    std::vector<std::string> notes;
    understand_columns(copy, notes);
    std::size_t channels = 0;
    for (const Column& column : copy) {
      channels += column.plan.role == Role::channel && !is_yes_no(column);
    }
    return channels;
  }

  void find_columns() {
    channels_ = count_channels();
    find_end();
    find_duration();
    find_bus_codes();
    find_unit();
    find_state();
    find_came_and_went();
    if (!plan_.came && !(plan_.spn && plan_.fmi)) find_name();
    if (plan_.name || plan_.spn) find_more_words();
  }

  bool choose_shape() {
    const bool named = plan_.name || (plan_.spn && plan_.fmi);
    if (named && (plan_.end || plan_.duration) && channels_ < 3) {
      plan_.shape = JournalShape::intervals;
      return true;
    }
    // Where the alarm column has blanks its texts come and go over time.
    const bool every_row =
        named && (!plan_.name || t_.columns[*plan_.name].stats.missing * 20 <
                                     t_.columns[*plan_.name].stats.cells);
    const bool means_none =
        plan_.name &&
        std::any_of(t_.columns[*plan_.name].stats.words.begin(),
                    t_.columns[*plan_.name].stats.words.end(),
                    [](const auto& w) { return means_no_alarm(w.first); });
    if (every_row && !means_none && plan_.state && channels_ < 3) {
      plan_.shape = JournalShape::states;
      return true;
    }
    if (plan_.came && channels_ < 3) {
      plan_.shape = JournalShape::on_and_off;
      return true;
    }
    if (channels_ > 0) return false;
    if (every_row && !means_none) {
      plan_.shape = JournalShape::messages;
      return true;
    }
    if (named) return false;  // a level
    find_contacts();
    plan_.shape = JournalShape::contacts;
    return !plan_.contacts.empty();
  }

  std::optional<Error> settle_time() {
    DecodePlan& plan = plan_.survey.plan;
    LogLayout& layout = plan_.survey.layout;
    plan_.time = time_.main.column;
    StampPlace place{
        t_.delimiter, t_.table.width, time_.main.column, std::nullopt, {}};
    if (time_.clock) {
      plan_.time_of_day = time_.clock->column;
      place.clock_column = time_.clock->column;
      place.clock = time_.clock->styles.front();
    }
    auto chosen = choose_date_order(store_, plan_.survey.encoding, place,
                                    time_.main.styles, options_.date_order);
    if (!chosen) return chosen.error();
    plan.time = chosen->style;
    plan.split_time = time_.clock.has_value();
    if (time_.clock) plan.time_of_day = time_.clock->styles.front();
    // Both ends of a row are written alike.
    if (plan_.end && plan_.end_style.kind == plan.time.kind) {
      plan_.end_style = plan.time;
    }
    TimeColumns marked = time_;
    marked.others.clear();
    mark_time_columns(t_.columns, marked);
    layout.elapsed = plan.time.kind == StampKind::elapsed ||
                     plan.time.kind == StampKind::elapsed_clock;
    layout.time_format = words_for_time(plan);
    if (layout.elapsed) return std::nullopt;
    std::optional<std::int32_t> offset = options_.utc_offset_min;
    if (!offset && map_ != nullptr && map_->time) {
      offset = map_->time->utc_offset_min;
    }
    if (!offset) offset = t_.columns[time_.main.column].header.zone_min;
    const bool own_zone = has_own_zone(plan);
    if (!own_zone) plan.utc_offset_min = offset;
    layout.zone_known = own_zone || offset;
    if (plan.time.kind == StampKind::epoch) {
      layout.time_format += ", UTC";
    } else if (!own_zone) {
      layout.time_format +=
          ", " + (offset ? words_for_zone(*offset) : std::string("no zone"));
    }
    return std::nullopt;
  }

  void hand_over() {
    for (Column& column : t_.columns) {
      plan_.survey.layout.columns.push_back(std::move(column.use));
      plan_.survey.plan.columns.push_back(std::move(column.plan));
    }
  }

  const ByteStore& store_;
  const ReadOptions& options_;
  const LogMap* map_;
  TableSurvey t_;
  TimeColumns time_;
  JournalPlan plan_;
  std::size_t channels_ = 0;
};

}  // namespace

Result<std::optional<JournalPlan>> plan_journal(const ByteStore& store,
                                                const ReadOptions& options,
                                                const LogMap* map) {
  auto table = survey_table(store, map);
  if (!table) return table.error();
  return Planner(store, options, map, std::move(*table)).run();
}

}  // namespace telltale::host
