// From a table with names to a layout and a plan.
#include "ingest/survey.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <optional>
#include <utility>

#include "ingest/apply_map.hpp"
#include "ingest/date_order.hpp"
#include "ingest/intervals.hpp"
#include "ingest/power_check.hpp"
#include "ingest/reverse_cursor.hpp"
#include "ingest/side_by_side.hpp"
#include "ingest/slow_columns.hpp"
#include "ingest/table_shape.hpp"
#include "ingest/table_survey.hpp"
#include "ingest/time_columns.hpp"
#include "ingest/time_words.hpp"
#include "support/safe_text.hpp"

namespace telltale::host {
namespace {

class Surveyor {
 public:
  Surveyor(const ByteStore& store, const ReadOptions& options,
           const LogMap* map, TableSurvey survey)
      : store_(store), options_(options), map_(map), t_(std::move(survey)) {}

  Result<Survey> run() {
    survey_.encoding = t_.encoding;
    survey_.layout.file = store_.name();
    survey_.layout.bytes = store_.size();
    survey_.layout.encoding = name_of(t_.encoding.encoding);
    settle_dialect();
    if (map_ != nullptr) {
      if (auto error = apply_map_columns(*map_, store_.name(), t_.columns)) {
        return *error;
      }
    }
    for (const auto step : {&Surveyor::find_time, &Surveyor::find_meanings}) {
      if (auto error = (this->*step)()) return *error;
    }
    hand_over();
    return std::move(survey_);
  }

 private:
  using Step = std::optional<Error>;

  void settle_dialect() {
    LogLayout& layout = survey_.layout;
    DecodePlan& plan = survey_.plan;
    plan.delimiter = layout.delimiter = t_.delimiter;
    plan.decimal = layout.decimal = t_.decimal.mark;
    plan.decimal_proven = t_.decimal.proven;
    if (t_.place.header) {
      const Table::Row& header = t_.table.rows[*t_.place.header];
      layout.header_line = plan.header_line = header.line;
      plan.header_text = header.record->text;
      while (!plan.header_text.empty() && plan.header_text.back() == '\r') {
        plan.header_text.pop_back();
      }
      plan.header_start = plan.header_text.front();
    }
    if (t_.place.unit_row) {
      plan.unit_row_text = t_.table.rows[*t_.place.unit_row].record->text;
      while (!plan.unit_row_text.empty() && plan.unit_row_text.back() == '\r') {
        plan.unit_row_text.pop_back();
      }
    }
  }

  Step find_time() {
    DecodePlan& plan = survey_.plan;
    std::vector<bool> taken;
    for (const Column& column : t_.columns) {
      taken.push_back(!column.use.why.empty());
    }
    if (map_ != nullptr && map_->time) {
      auto mapped =
          time_of_map(*map_, store_.name(), t_.table, t_.rows, t_.columns);
      if (!mapped) return mapped.error();
      time_ = std::move(*mapped);
    } else {
      auto found = choose_time_columns(
          find_time_candidates(t_.table, t_.rows, t_.columns), taken);
      if (!found) return no_time_error();
      time_ = *std::move(found);
    }
    StampPlace place{
        plan.delimiter, t_.table.width, time_.main.column, std::nullopt, {}};
    if (time_.clock) {
      place.clock_column = time_.clock->column;
      place.clock = time_.clock->styles.front();
    }
    auto chosen = choose_date_order(store_, survey_.encoding, place,
                                    time_.main.styles, options_.date_order);
    if (!chosen) return chosen.error();
    plan.time = chosen->style;
    plan.split_time = time_.clock.has_value();
    if (time_.clock) plan.time_of_day = time_.clock->styles.front();
    mark_time_columns(t_.columns, time_);
    if (!chosen->why.empty()) {
      t_.columns[time_.main.column].use.why += ", " + chosen->why;
    }
    settle_zone();
    return std::nullopt;
  }

  Error no_time_error() const {
    std::string names;
    for (const Column& column : t_.columns) {
      if (names.size() > 60) {
        names += ", ...";
        break;
      }
      if (!names.empty()) names += ", ";
      names += printable(column.header.text, 24);
    }
    return {fmt::format("no column tells the time ({} columns: {})",
                        t_.table.width, names),
            store_.name(),
            "name it in a map: time = { column = 1, format = \"...\" }"};
  }

  void settle_zone() {
    LogLayout& layout = survey_.layout;
    DecodePlan& plan = survey_.plan;
    layout.elapsed = plan.time.kind == StampKind::elapsed ||
                     plan.time.kind == StampKind::elapsed_clock;
    layout.time_format = words_for_time(plan);
    if (layout.elapsed) return;
    std::optional<std::int32_t> offset = options_.utc_offset_min;
    if (!offset && map_ != nullptr && map_->time) {
      offset = map_->time->utc_offset_min;
    }
    if (!offset) offset = t_.columns[time_.main.column].header.zone_min;
    if (!offset && time_.clock) {
      offset = t_.columns[time_.clock->column].header.zone_min;
    }
    if (!offset) offset = zone_of_a_column();
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
    if (plan.time.kind != StampKind::clock) return;
    if (const auto day = day_in_preamble(t_.table, t_.place)) {
      plan.first_day_ms = *day;
      layout.notes.push_back(
          fmt::format("the rows have times of day alone; the date {} comes "
                      "from the text above the header",
                      words_for_day(*day)));
    } else {
      layout.notes.emplace_back(
          "the log has times of day but no date: its first day is shown as "
          "1970-01-01");
    }
  }

  // A column of its own may hold the zone, the same in all rows.
  std::optional<std::int32_t> zone_of_a_column() {
    for (Column& column : t_.columns) {
      const auto& tokens = column.header.tokens;
      const bool named = std::any_of(
          tokens.begin(), tokens.end(), [](const std::string& word) {
            return word == "tz" || word == "timezone" || word == "zone" ||
                   word == "offset" || word == "utcoffset" ||
                   word == "zeitzone";
          });
      if (!named || column.stats.words.size() != 1) continue;
      const auto zone = parse_zone(column.stats.words.begin()->first);
      if (!zone) continue;
      column.use.why = "the time zone of all stamps";
      return zone;
    }
    return std::nullopt;
  }

  Step find_meanings() {
    std::vector<std::string>& notes = survey_.layout.notes;
    const auto tall = find_tall_columns(t_.table, t_.rows, t_.columns, time_);
    if (tall) {
      settle_tall(*tall);
      return std::nullopt;
    }
    const auto groups =
        find_group_times(t_.table, t_.rows, t_.columns, time_, t_.decimal.mark);
    if (!groups.empty()) settle_groups(groups);
    understand_columns(t_.columns, notes);
    if (groups.empty()) settle_sets();
    check_power(t_.table, t_.rows, t_.decimal, t_.columns, notes);
    if (groups.empty()) find_slow_columns(t_.table, t_.rows, t_.columns);
    if (auto error = refuse_event_list()) return error;
    const Intervals intervals =
        intervals_of(t_.table, t_.rows, survey_.plan, grid());
    survey_.layout.interval_s = intervals.row_s;
    survey_.stamp_step_s = intervals.stamp_s;
    return intervals.descending ? read_backwards() : std::nullopt;
  }

  // The newest row comes first: the log is read from its end, where its lines
  // can be found from there.
  Step read_backwards() {
    const Encoding encoding = t_.encoding.encoding;
    const bool wide =
        encoding == Encoding::utf16le || encoding == Encoding::utf16be;
    const bool last_is_header = t_.place.unit_row || t_.place.header;
    const std::size_t head_row =
        t_.place.unit_row.value_or(t_.place.header.value_or(0));
    const bool line_feeds = t_.sample.any_line_feed;
    if (store_.compressed() || wide || !line_feeds || !last_is_header ||
        survey_.plan.shape != TableShape::wide) {
      return Error{"the newest row comes first: time runs backwards",
                   store_.name(), "sort it by time, oldest first"};
    }
    NewestFirst order;
    order.head_lines = t_.table.rows[head_row].line;
    order.head_bytes = bytes_of_lines(store_, order.head_lines);
    order.lines = count_lines(store_);
    survey_.plan.newest_first = order;
    survey_.layout.notes.emplace_back(
        "the newest row comes first: the log is read from its end");
    // Steps back in the file are steps forward in time.
    std::vector<std::size_t> rows(t_.rows.rbegin(), t_.rows.rend());
    const Intervals intervals =
        intervals_of(t_.table, rows, survey_.plan, grid());
    survey_.layout.interval_s = intervals.row_s;
    survey_.stamp_step_s = intervals.stamp_s;
    return std::nullopt;
  }

  StampGrid grid() const {
    StampGrid grid{time_.main.column, std::nullopt, std::nullopt};
    if (time_.clock) grid.of_day = time_.clock->column;
    for (std::size_t i = 0; i < t_.columns.size(); ++i) {
      if (t_.columns[i].plan.role == Role::unit) grid.unit = i;
    }
    return grid;
  }

  void settle_tall(const TallColumns& tall) {
    LogLayout& layout = survey_.layout;
    DecodePlan& plan = survey_.plan;
    readings_ = readings_of(t_.table, t_.rows, tall, t_.decimal);
    const bool by_name = is_sorted_by_name(t_.table, t_.rows, tall);
    plan.shape = by_name ? TableShape::tall_by_name : TableShape::tall;
    const auto mark = [&](std::size_t i, Role role, std::string_view why) {
      t_.columns[i].plan.role = role;
      t_.columns[i].use.why = why;
    };
    mark(tall.name, Role::reading_name, "names the reading of a row");
    mark(tall.value, Role::reading_value, "the reading of a row");
    if (tall.unit) {
      mark(*tall.unit, Role::reading_unit, "the unit of a row's reading");
    }
    understand_unit_column(t_.columns);
    if (map_ != nullptr) apply_map_readings(*map_, readings_);
    understand_columns(readings_, layout.notes);
    // A sample is what lies within half the time that one name needs to come
    // again.
    const double period =
        period_of_names(t_.table, t_.rows, plan, grid(), tall.name);
    plan.sample_ms = static_cast<std::int64_t>(period * 500);
    layout.interval_s = survey_.stamp_step_s = period;
    layout.notes.emplace_back(
        by_name ? "one reading a row, sorted by name: read once for each name"
                : "one reading a row: those of one moment are put together");
  }

  void settle_sets() {
    std::vector<std::string>& sets = survey_.plan.sets;
    sets = sets_in_use(t_.columns);
    if (sets.size() < 2) return;
    survey_.plan.shape = TableShape::side_by_side;
    std::string names;
    for (const std::string& set : sets) {
      names += (names.empty() ? "" : ", ") + set;
    }
    survey_.layout.notes.push_back(
        fmt::format("columns of {} sets side by side: {}", sets.size(), names));
  }

  void settle_groups(const std::vector<std::size_t>& times) {
    survey_.plan.shape = TableShape::pairs;
    for (const std::size_t i : times) {
      t_.columns[i].plan.role = Role::time;
      t_.columns[i].use.name = "time";
      t_.columns[i].use.why = "leads the columns up to the next time";
    }
    survey_.layout.notes.emplace_back(
        "columns in groups with times of their own: they are merged by time");
  }

  // On and off times and no readings: a journal.
  Step refuse_event_list() const {
    const bool used = std::any_of(t_.columns.begin(), t_.columns.end(),
                                  [](const Column& column) {
                                    return column.plan.role == Role::channel ||
                                           column.plan.role == Role::state;
                                  });
    if (used || survey_.plan.shape != TableShape::wide) return std::nullopt;
    // The end is written as the beginning is: as a stamp, or as a date and a
    // time of day.
    const auto have = [this](auto&& is_like) {
      return std::any_of(time_.others.begin(), time_.others.end(), is_like);
    };
    const auto is_stamp = [](const TimeCandidate& c) {
      return c.kind == StampKind::calendar || c.kind == StampKind::epoch;
    };
    const auto is_like = [](const TimeCandidate& of) {
      return [&of](const TimeCandidate& c) { return c.kind == of.kind; };
    };
    const bool ends =
        time_.clock ? have(is_like(time_.main)) && have(is_like(*time_.clock))
                    : is_stamp(time_.main) && have(is_stamp);
    if (!ends) return std::nullopt;
    return Error{
        "an event list (each row has its own beginning and end), not readings "
        "over time",
        store_.name(),
        "telltale alarms reads such lists, and telltale columns shows how"};
  }

  // Columns become the layout's and the plan's.
  void hand_over() {
    LogLayout& layout = survey_.layout;
    DecodePlan& plan = survey_.plan;
    for (std::vector<Column>* list : {&t_.columns, &readings_}) {
      for (Column& column : *list) {
        column.plan.header = column.use.header;
        const ColumnStats& stats = column.stats;
        if (stats.numbers >= 20) {
          column.plan.least_length = stats.least_length;
          if (stats.most_decimals == stats.least_decimals &&
              stats.most_decimals > 0) {
            column.plan.fixed_decimals = stats.most_decimals;
          }
        }
        layout.columns.push_back(std::move(column.use));
        (list == &readings_ ? plan.readings : plan.columns)
            .push_back(std::move(column.plan));
      }
    }
    plan.first_columns = plan.columns;
    for (const ColumnPlan& reading : plan.readings) {
      plan.reading_names.push_back(reading.header);
    }
  }

  const ByteStore& store_;
  const ReadOptions& options_;
  const LogMap* map_;
  TableSurvey t_;
  Survey survey_;
  TimeColumns time_;
  std::vector<Column> readings_;  // of a tall table
};

}  // namespace

TimeOrderOptions order_options_of(const Survey& survey) {
  const auto ms = [](double seconds) {
    return DurationMs{std::max<std::int64_t>(1, std::llround(seconds * 1000))};
  };
  TimeOrderOptions options;
  if (survey.layout.interval_s > 0) {
    options.interval = ms(survey.layout.interval_s);
  }
  if (survey.stamp_step_s > 0) options.stamp_step = ms(survey.stamp_step_s);
  return options;
}

Result<Survey> survey_log(const ByteStore& store, const ReadOptions& options,
                          const LogMap* map) {
  auto table = survey_table(store, map);
  if (!table) return table.error();
  return Surveyor(store, options, map, std::move(*table)).run();
}

}  // namespace telltale::host
