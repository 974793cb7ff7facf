#include "alarms/journal_plan.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <initializer_list>
#include <span>
#include <string_view>
#include <utility>

#include "alarms/event_words.hpp"
#include "alarms/journal_planner.hpp"
#include "alarms/journal_words.hpp"
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

// "when the alarm of the row came", and which part of that moment it is.
std::string words_for_moment(std::string_view what, bool split, bool is_date) {
  return fmt::format("when the alarm of the row {}{}", what,
                     !split    ? ""
                     : is_date ? ": date"
                               : ": time of day");
}

}  // namespace

Result<std::optional<JournalPlan>> JournalPlanner::run() {
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
  explain_beginning();
  explain_rest();
  hand_over();
  return std::optional<JournalPlan>(std::move(plan_));
}

void JournalPlanner::settle_dialect() {
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

bool JournalPlanner::find_time() {
  std::vector<bool> taken;
  taken.reserve(t_.columns.size());
  for (const Column& column : t_.columns) {
    taken.push_back(!column.use.why.empty() || says(column.header, kSeenWords));
  }
  if (map_ != nullptr && map_->time) {
    auto mapped =
        time_of_map(*map_, store_.name(), t_.table, t_.rows, t_.columns);
    if (!mapped) return false;
    time_ = std::move(*mapped);
    return true;
  }
  auto all = find_time_candidates(t_.table, t_.rows, t_.columns);
  // When an alarm was seen is when it came only where nothing else tells.
  const auto is_taken = [&](const TimeCandidate& c) { return taken[c.column]; };
  if (std::all_of(all.begin(), all.end(), is_taken)) {
    for (std::size_t i = 0; i < taken.size(); ++i) {
      taken[i] = !t_.columns[i].use.why.empty();
    }
  }
  std::erase_if(all, is_taken);
  auto chosen = choose_time_columns(all, taken);
  if (!chosen) return false;
  time_ = std::move(*chosen);
  if (!time_.clock) prefer_beginning(all);
  return true;
}

void JournalPlanner::prefer_beginning(const std::vector<TimeCandidate>& all) {
  const auto tells = [&](const TimeCandidate& candidate, Words words) {
    return is_moment(candidate.kind) &&
           says(t_.columns[candidate.column].header, words);
  };
  const auto tells_end = [&](const TimeCandidate& candidate) {
    return tells(candidate, kOffWords);
  };
  const auto beginning =
      std::find_if(all.begin(), all.end(), [&](const TimeCandidate& candidate) {
        return tells(candidate, kOnWords) && !tells_end(candidate);
      });
  if (beginning == all.end() || beginning->column == time_.main.column ||
      std::none_of(all.begin(), all.end(), tells_end)) {
    return;
  }
  time_.others.push_back(std::exchange(time_.main, *beginning));
}

bool JournalPlanner::is_time(std::size_t i) const {
  return i == time_.main.column || (time_.clock && i == time_.clock->column);
}

bool JournalPlanner::is_free(std::size_t i) const {
  return !is_time(i) && t_.columns[i].use.why.empty();
}

void JournalPlanner::take(std::size_t i, std::string name, std::string why,
                          std::optional<std::size_t>& slot, std::string part) {
  slot = i;
  t_.columns[i].use.part = std::move(part);
  t_.columns[i].use.name = std::move(name);
  t_.columns[i].use.why = std::move(why);
}

bool JournalPlanner::reads(std::size_t i, const StampStyle& style) const {
  auto reader = StampReader::of(style, t_.decimal.mark);
  if (!reader) return false;
  std::size_t read = 0;
  std::size_t other = 0;
  for (const std::size_t row : t_.rows) {
    const auto& cells = t_.table.rows[row].cells;
    if (i >= cells.size() || is_missing_word(cells[i])) continue;
    std::int64_t ms = 0;
    bool zone = false;
    reader->read(cells[i], ms, zone) ? ++read : ++other;
  }
  return read > 0 && other <= read;
}

std::optional<std::size_t> JournalPlanner::end_like(const StampStyle& style) {
  for (std::size_t i = 0; i < t_.columns.size(); ++i) {
    if (is_free(i) && says(t_.columns[i].header, kOffWords) &&
        reads(i, style)) {
      return i;
    }
  }
  return std::nullopt;
}

void JournalPlanner::find_end() {
  std::optional<std::size_t> of_day;
  if (time_.clock) {
    plan_.end_clock_style = time_.clock->styles.front();
    of_day = end_like(plan_.end_clock_style);
    if (!of_day) return;
  }
  for (const StampStyle& style : time_.main.styles) {
    if (!time_.clock && !is_moment(style.kind)) continue;
    const auto end = end_like(style);
    if (!end || end == of_day) continue;
    plan_.end_style = style;
    const bool split = time_.clock.has_value();
    take(*end, split ? "date" : "time", words_for_moment("went", split, true),
         plan_.end, "end");
    if (of_day) {
      take(*of_day, "time_of_day", words_for_moment("went", split, false),
           plan_.end_time_of_day, "end");
    }
    return;
  }
}

void JournalPlanner::find_duration() {
  for (std::size_t i = 0; i < t_.columns.size() && !plan_.end; ++i) {
    const Column& column = t_.columns[i];
    if (!is_free(i) || !says(column.header, kDurationWords)) continue;
    const bool spans = column.stats.numbers > 0 ||
                       std::any_of(column.stats.words.begin(),
                                   column.stats.words.end(), [](const auto& w) {
                                     return parse_elapsed(w.first).has_value();
                                   });
    if (!spans) continue;
    struct Count {
      std::string_view word;
      double seconds;
      std::string_view words;
    };
    std::string_view words = "seconds";
    for (const Count& count : {Count{"min", 60.0, "minutes"},
                               {"minutes", 60.0, "minutes"},
                               {"h", 3600.0, "hours"},
                               {"hours", 3600.0, "hours"},
                               {"ms", 0.001, "milliseconds"}}) {
      if (says(column.header, {count.word}) ||
          column.header.unit_text == count.word) {
        plan_.duration_s = count.seconds;
        words = count.words;
      }
    }
    // Of cells like 0:05:00 there is nothing to say.
    const std::string unit =
        column.stats.numbers > 0 ? fmt::format(", in {}", words) : "";
    take(i, "", "how long the alarm of the row stood" + unit, plan_.duration,
         "duration");
    return;
  }
}

std::size_t JournalPlanner::distinct_of(const Column& column) const {
  std::vector<double> values = column.stats.sorted;
  values.erase(std::unique(values.begin(), values.end()), values.end());
  return values.size() + column.stats.words.size();
}

std::size_t JournalPlanner::count_channels() const {
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

bool JournalPlanner::choose_shape() {
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

std::optional<Error> JournalPlanner::settle_time() {
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
  std::erase_if(marked.others, [this](const TimeCandidate& other) {
    return !is_free(other.column);
  });
  mark_time_columns(t_.columns, marked);
  layout.elapsed = plan.time.kind == StampKind::elapsed ||
                   plan.time.kind == StampKind::elapsed_clock;
  layout.time_format = words_for_time(plan);
  if (!layout.elapsed) settle_zone();
  return std::nullopt;
}

void JournalPlanner::settle_zone() {
  DecodePlan& plan = plan_.survey.plan;
  LogLayout& layout = plan_.survey.layout;
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
    if (!offset) layout.notes.emplace_back(kNoZoneNote);
  }
}

void JournalPlanner::explain_beginning() {
  if (!plan_.end && !plan_.duration) return;
  const bool split = time_.clock.has_value();
  const auto explain = [&](std::size_t i, bool is_date) {
    t_.columns[i].use.part = "beginning";
    t_.columns[i].use.why = words_for_moment("came", split, is_date);
  };
  explain(time_.main.column, true);
  if (split) explain(time_.clock->column, false);
}

void JournalPlanner::explain_rest() {
  for (std::size_t i = 0; i < t_.columns.size(); ++i) {
    Column& column = t_.columns[i];
    if (!is_free(i)) continue;
    const ColumnStats& stats = column.stats;
    if (stats.cells == stats.missing) {
      column.use.why = "no values";
    } else if (says(column.header, kSeenWords)) {
      column.use.why = "of its acknowledgement";
    } else {
      column.use.why = stats.numbers > stats.texts ? "numbers" : "text";
    }
  }
}

void JournalPlanner::hand_over() {
  for (Column& column : t_.columns) {
    plan_.survey.layout.columns.push_back(std::move(column.use));
    plan_.survey.plan.columns.push_back(std::move(column.plan));
  }
}

Result<std::optional<JournalPlan>> plan_journal(const ByteStore& store,
                                                const ReadOptions& options,
                                                const LogMap* map) {
  auto table = survey_table(store, map);
  if (!table) return table.error();
  return JournalPlanner(store, options, map, std::move(*table)).run();
}

}  // namespace telltale::host
