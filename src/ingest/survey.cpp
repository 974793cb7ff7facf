// The steps from a log's bytes to its layout.
#include "ingest/survey.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <optional>
#include <utility>

#include "ingest/apply_map.hpp"
#include "ingest/date_order.hpp"
#include "ingest/dialect.hpp"
#include "ingest/intervals.hpp"
#include "ingest/sample.hpp"
#include "ingest/table_shape.hpp"
#include "ingest/time_columns.hpp"
#include "ingest/time_words.hpp"
#include "ingest/understand.hpp"
#include "support/civil_time.hpp"
#include "support/safe_text.hpp"

namespace telltale::host {
namespace {

EncodingGuess find_encoding(const ByteStore& store) {
  std::string head(std::size_t{256} << 10, '\0');
  head.resize(store.cursor()->read(head.data(), head.size()));
  return guess_encoding(head);
}

std::string_view without_brackets(std::string_view text) {
  if (text.size() > 2 && (text.front() == '(' || text.front() == '[')) {
    return text.substr(1, text.size() - 2);
  }
  return text;
}

class Surveyor {
 public:
  Surveyor(const ByteStore& store, const ReadOptions& options,
           const LogMap* map)
      : store_(store), options_(options), map_(map) {}

  Result<Survey> run() {
    for (const auto step :
         {&Surveyor::find_table, &Surveyor::find_names, &Surveyor::find_columns,
          &Surveyor::find_time, &Surveyor::find_meanings}) {
      if (auto error = (this->*step)()) return *std::move(error);
    }
    return std::move(survey_);
  }

  Result<std::string> draft() {
    if (auto error = find_table()) return *std::move(error);
    return draft_of_table();
  }

 private:
  using Step = std::optional<Error>;

  Step find_table() {
    LogLayout& layout = survey_.layout;
    DecodePlan& plan = survey_.plan;
    survey_.encoding = find_encoding(store_);
    if (map_ != nullptr && map_->encoding) {
      const bool mark = survey_.encoding.encoding == *map_->encoding;
      survey_.encoding = {*map_->encoding,
                          mark ? survey_.encoding.mark_bytes : 0};
    }
    layout.file = store_.name();
    layout.bytes = store_.size();
    layout.encoding = name_of(survey_.encoding.encoding);
    sample_ = take_sample(store_, survey_.encoding);
    char delimiter = map_ != nullptr && map_->delimiter
                         ? *map_->delimiter
                         : choose_delimiter(sample_);
    if (delimiter != '\0') table_ = cut_sample(sample_, delimiter);
    if (delimiter == '\0' || table_.width < 2) {
      return Error{
          "no table found: no comma, semicolon, tab or bar parts its lines "
          "into columns",
          store_.name(), "is it a log? If so, export it as CSV"};
    }
    plan.delimiter = layout.delimiter = delimiter;
    decimal_ = choose_decimal(table_, delimiter);
    if (map_ != nullptr && map_->decimal) decimal_ = {*map_->decimal, true};
    plan.decimal = layout.decimal = decimal_.mark;
    plan.decimal_proven = decimal_.proven;
    return std::nullopt;
  }

  // The header and the row of units.
  Step find_names() {
    if (map_ != nullptr && map_->header_line) {
      if (*map_->header_line == 0) return std::nullopt;
      for (std::size_t i = 0; i < table_.rows.size(); ++i) {
        if (table_.rows[i].line == *map_->header_line) place_.header = i;
      }
      if (!place_.header ||
          table_.rows[*place_.header].cells.size() < table_.width) {
        return Error{fmt::format("line {} is no header of {} columns",
                                 *map_->header_line, table_.width),
                     store_.name(), "correct header_line in " + map_->path};
      }
      place_.unit_row = unit_row_below(table_, *place_.header, decimal_.mark);
      return std::nullopt;
    }
    place_ = find_header(table_, decimal_.mark);
    if (place_.header || may_do_without_header()) return std::nullopt;
    if (place_.other_width != 0) {
      return Error{fmt::format("the header on line {} names {} columns, but "
                               "rows have {} cells{}",
                               place_.other_line, place_.other_width,
                               table_.width, width_hint()),
                   store_.name(),
                   "correct the header, or write a map with header_line = 0"};
    }
    return Error{fmt::format("no header: no line of the log names its {} "
                             "columns",
                             table_.width),
                 store_.name(),
                 "say what they are in a map (--save-map writes one to edit)"};
  }

  std::string width_hint() const {
    if (survey_.plan.delimiter != ',') return "";
    return place_.other_width < table_.width
               ? "; are decimals written with commas?"
               : "";
  }

  // A map by numbers alone says what the columns of a log without header are.
  bool may_do_without_header() const {
    return map_ != nullptr && map_->time && !map_->columns.empty() &&
           std::all_of(map_->columns.begin(), map_->columns.end(),
                       [](const MapColumn& column) {
                         return column.index != 0 && column.header.empty();
                       });
  }

  Step find_columns() {
    DecodePlan& plan = survey_.plan;
    const std::string* header_text = nullptr;
    if (place_.header) {
      const Table::Row& header = table_.rows[*place_.header];
      survey_.layout.header_line = plan.header_line = header.line;
      plan.header_text = header.record->text;
      while (!plan.header_text.empty() && plan.header_text.back() == '\r') {
        plan.header_text.pop_back();
      }
      plan.header_start = plan.header_text.front();
      header_text = &header.record->text;
    }
    if (place_.unit_row) {
      plan.unit_row_text = table_.rows[*place_.unit_row].record->text;
    }
    for (std::size_t i = 0; i < table_.rows.size(); ++i) {
      const Table::Row& row = table_.rows[i];
      const bool same_width =
          row.cells.size() == table_.width ||
          (row.cells.size() == table_.width + 1 && row.cells.back().empty());
      if (!same_width || place_.header == i || place_.unit_row == i) continue;
      if (header_text != nullptr && row.record->text == *header_text) continue;
      rows_.push_back(i);
    }
    if (rows_.empty()) {
      return Error{"a header, but no readings under it", store_.name(),
                   "copy the log again from the logger"};
    }
    columns_.resize(table_.width);
    for (std::size_t i = 0; i < table_.width; ++i) {
      Column& column = columns_[i];
      if (place_.header) column.header = header_of_column(i);
      column.stats = stats_of(table_, rows_, i, decimal_);
      column.use.header = printable(column.header.text);
    }
    find_common_words(columns_);
    if (map_ != nullptr) {
      return apply_map_columns(*map_, store_.name(), columns_);
    }
    return std::nullopt;
  }

  HeaderName header_of_column(std::size_t i) const {
    const std::string& text = table_.rows[*place_.header].cells[i];
    HeaderName name = parse_header(text);
    if (place_.unit_row && !name.unit) {
      const std::string unit(
          without_brackets(table_.rows[*place_.unit_row].cells[i]));
      if (unit_of_text(unit)) {
        HeaderName with_unit = parse_header(text + " (" + unit + ")");
        with_unit.text = name.text;
        return with_unit;
      }
    }
    return name;
  }

  Step find_time() {
    DecodePlan& plan = survey_.plan;
    std::vector<HeaderName> headers;
    std::vector<ColumnStats> stats;
    for (const Column& column : columns_) {
      headers.push_back(column.header);
      stats.push_back(column.stats);
    }
    if (map_ != nullptr && map_->time) {
      auto mapped =
          time_of_map(*map_, store_.name(), table_, rows_, headers, stats);
      if (!mapped) return mapped.error();
      time_ = std::move(*mapped);
    } else {
      std::vector<bool> taken;
      for (const Column& column : columns_) {
        taken.push_back(!column.use.why.empty());
      }
      auto found = choose_time_columns(
          find_time_candidates(table_, rows_, headers, stats), taken);
      if (!found) return no_time_error();
      time_ = *std::move(found);
    }
    const StampPlace place{plan.delimiter, table_.width, time_.main.column};
    auto chosen = choose_date_order(store_, survey_.encoding, place,
                                    time_.main.styles, options_.date_order);
    if (!chosen) return chosen.error();
    plan.time = chosen->style;
    plan.split_time = time_.clock.has_value();
    if (time_.clock) plan.time_of_day = time_.clock->styles.front();
    mark_time_columns(columns_, time_);
    if (!chosen->why.empty()) {
      columns_[time_.main.column].use.why += ", " + chosen->why;
    }
    settle_zone(headers);
    const StampGrid grid{
        time_.main.column,
        time_.clock ? std::optional(time_.clock->column) : std::nullopt};
    const Intervals intervals = intervals_of(table_, rows_, plan, grid);
    survey_.layout.interval_s = intervals.row_s;
    survey_.stamp_step_s = intervals.stamp_s;
    if (intervals.descending) {
      return Error{"the newest row comes first: time runs backwards",
                   store_.name(), "sort it by time, oldest first"};
    }
    return std::nullopt;
  }

  Error no_time_error() const {
    std::string names;
    for (const Column& column : columns_) {
      if (names.size() > 60) {
        names += ", ...";
        break;
      }
      if (!names.empty()) names += ", ";
      names += printable(column.header.text, 24);
    }
    return {fmt::format("no column tells the time ({} columns: {})",
                        table_.width, names),
            store_.name(),
            "name it in a map: time = { column = 1, format = \"...\" }"};
  }

  void settle_zone(const std::vector<HeaderName>& headers) {
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
    if (!offset) offset = headers[time_.main.column].zone_min;
    if (!offset && time_.clock) offset = headers[time_.clock->column].zone_min;
    const bool own_zone = has_own_zone(plan);
    if (!own_zone) plan.utc_offset_min = offset;
    layout.zone_known = own_zone || offset;
    if (plan.time.kind == StampKind::epoch) {
      layout.time_format += ", UTC";
    } else if (!own_zone) {
      layout.time_format +=
          ", " + (offset ? words_for_zone(*offset) : std::string("no zone"));
      if (!offset) {
        layout.notes.emplace_back(
            "the stamps name no time zone; --timezone gives one");
      }
    }
    if (plan.time.kind != StampKind::clock) return;
    if (const auto day = day_in_preamble(table_, place_)) {
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

  Step find_meanings() {
    LogLayout& layout = survey_.layout;
    DecodePlan& plan = survey_.plan;
    std::vector<Column> readings;
    const auto tall = find_tall_columns(table_, rows_, columns_, time_);
    const auto groups =
        find_group_times(table_, rows_, columns_, time_, decimal_.mark);
    if (tall) {
      readings = readings_of(table_, rows_, *tall, decimal_);
      settle_tall(*tall, readings);
    } else {
      if (!groups.empty()) settle_groups(groups);
      understand_columns(columns_, layout.notes);
    }
    if (const auto error = refuse_event_list()) return error;
    for (std::vector<Column>* list : {&columns_, &readings}) {
      for (Column& column : *list) finish(column);
    }
    for (Column& column : columns_) {
      layout.columns.push_back(std::move(column.use));
      plan.columns.push_back(std::move(column.plan));
    }
    for (Column& reading : readings) {
      layout.columns.push_back(std::move(reading.use));
      plan.readings.push_back(std::move(reading.plan));
    }
    plan.first_columns = plan.columns;
    return std::nullopt;
  }

  static void finish(Column& column) {
    column.plan.header = column.use.header;
    const ColumnStats& stats = column.stats;
    const bool fixed = stats.numbers >= 20 &&
                       stats.most_decimals == stats.least_decimals &&
                       stats.most_decimals > 0;
    column.plan.fixed_decimals = fixed ? stats.most_decimals : -1;
    if (stats.numbers >= 20) column.plan.least_length = stats.least_length;
  }

  void settle_tall(const TallColumns& tall, std::vector<Column>& readings) {
    DecodePlan& plan = survey_.plan;
    const bool by_name = is_sorted_by_name(table_, rows_, tall);
    plan.shape = by_name ? TableShape::tall_by_name : TableShape::tall;
    const auto mark = [&](std::size_t i, Role role, std::string_view why) {
      columns_[i].plan.role = role;
      columns_[i].use.why = why;
    };
    mark(tall.name, Role::reading_name, "names the reading of a row");
    mark(tall.value, Role::reading_value, "the reading of a row");
    if (tall.unit) {
      mark(*tall.unit, Role::reading_unit, "the unit of a row's reading");
    }
    understand_unit_column(columns_);
    if (map_ != nullptr) apply_map_readings(*map_, readings);
    understand_columns(readings, survey_.layout.notes);
    // A sample is what lies within half the time that one name needs to come
    // again.
    const StampGrid grid{
        time_.main.column,
        time_.clock ? std::optional(time_.clock->column) : std::nullopt};
    const double period = period_of_names(table_, rows_, plan, grid, tall.name);
    plan.sample_ms = static_cast<std::int64_t>(period * 500);
    survey_.layout.interval_s = period;
    survey_.stamp_step_s = period;
    survey_.layout.notes.push_back(
        by_name ? "one reading a row, sorted by name: read once for each name"
                : "one reading a row: those of one moment are put together");
  }

  void settle_groups(const std::vector<std::size_t>& times) {
    survey_.plan.shape = TableShape::pairs;
    for (const std::size_t i : times) {
      columns_[i].plan.role = Role::time;
      columns_[i].use.name = "time";
      columns_[i].use.why = "leads the columns up to the next time";
    }
    survey_.layout.notes.emplace_back(
        "columns in groups with times of their own: they are merged by time");
  }

  // On and off times and no readings: a journal.
  Step refuse_event_list() const {
    const bool used =
        std::any_of(columns_.begin(), columns_.end(), [](const Column& column) {
          return column.plan.role == Role::channel ||
                 column.plan.role == Role::state;
        });
    if (used || survey_.plan.shape != TableShape::wide) return std::nullopt;
    const auto stamps = [](const TimeCandidate& c) {
      return c.kind == StampKind::calendar || c.kind == StampKind::epoch;
    };
    const bool second =
        std::any_of(time_.others.begin(), time_.others.end(), stamps);
    if (!stamps(time_.main) || !second) return std::nullopt;
    return Error{
        "an event list (each row has its own beginning and end), not readings "
        "over time",
        store_.name(), "telltale alarms reads such lists"};
  }

  std::string draft_of_table() const {
    std::string out =
        "# Say what the columns are; \"ignore\" leaves one out.\n";
    out += fmt::format("delimiter = \"{}\"\ndecimal = \"{}\"\n",
                       table_delimiter(), decimal_.mark);
    out += fmt::format("header_line = 0\nencoding = \"{}\"\n",
                       survey_.layout.encoding);
    std::string time = "# time = { column = 1, format = \"...\" }\n";
    std::string columns;
    const Table::Row& example = table_.rows[table_.rows.size() / 2];
    for (std::size_t i = 0; i < std::min(table_.width, example.cells.size());
         ++i) {
      const std::string& cell = example.cells[i];
      const auto patterns = guess_patterns(cell, false);
      if (!patterns.empty() && time.front() == '#') {
        time = fmt::format("time = {{ column = {}, format = \"{}\" }}\n", i + 1,
                           patterns.front());
        continue;
      }
      columns += fmt::format(
          "\n[[column]]  # such as {}\nindex = {}\nchannel = \"ignore\"\n",
          printable(cell, 40), i + 1);
    }
    return out + time + columns;
  }

  std::string table_delimiter() const {
    return survey_.plan.delimiter == '\t'
               ? "\\t"
               : std::string(1, survey_.plan.delimiter);
  }

  const ByteStore& store_;
  const ReadOptions& options_;
  const LogMap* map_;
  Survey survey_;
  Sample sample_;
  Table table_;
  DecimalMark decimal_;
  HeaderPlace place_;
  std::vector<std::size_t> rows_;  // of the table: data
  std::vector<Column> columns_;
  TimeColumns time_;
};

}  // namespace

Result<Survey> survey_log(const ByteStore& store, const ReadOptions& options,
                          const LogMap* map) {
  return Surveyor(store, options, map).run();
}

Result<std::string> draft_map(const ByteStore& store) {
  const ReadOptions options;
  return Surveyor(store, options, nullptr).draft();
}

}  // namespace telltale::host
