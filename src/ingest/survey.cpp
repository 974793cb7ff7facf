// The steps from a log's bytes to its layout.
#include "ingest/survey.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <optional>
#include <utility>

#include "ingest/date_order.hpp"
#include "ingest/dialect.hpp"
#include "ingest/sample.hpp"
#include "ingest/time_columns.hpp"
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

std::vector<std::size_t> data_rows(const Table& table,
                                   const HeaderPlace& place) {
  std::vector<std::size_t> rows;
  const std::string* header =
      place.header ? &table.rows[*place.header].record->text : nullptr;
  for (std::size_t i = 0; i < table.rows.size(); ++i) {
    const Table::Row& row = table.rows[i];
    if (row.cells.size() < table.width) continue;
    if (place.header == i || place.unit_row == i) continue;
    if (header != nullptr && row.record->text == *header) continue;
    rows.push_back(i);
  }
  return rows;
}

struct Interval {
  double row_s = 0;
  double stamp_s = 0;
};

// Median time between rows that follow each other.
Interval median_interval(const Table& table,
                         const std::vector<std::size_t>& rows,
                         const DecodePlan& plan, const TimeColumns& time) {
  auto main = StampReader::of(plan.time, plan.decimal);
  auto clock = StampReader::of(plan.time_of_day, plan.decimal);
  if (!main) return {};
  std::vector<std::int64_t> steps;
  std::optional<std::int64_t> last;
  std::int64_t repeats = 0;
  for (const std::size_t row : rows) {
    const auto& cells = table.rows[row].cells;
    std::int64_t ms = 0;
    std::int64_t of_day = 0;
    bool zone = false;
    bool ok = main->read(cells[time.main.column], ms, zone);
    if (ok && time.clock && clock) {
      ok = clock->read(cells[time.clock->column], of_day, zone);
      ms += of_day;
    }
    if (!table.rows[row].follows) last.reset();
    if (!ok) continue;
    if (last && ms > *last) steps.push_back(ms - *last);
    if (last && ms == *last) ++repeats;
    last = ms;
  }
  if (steps.empty()) return {};
  const auto middle =
      steps.begin() + static_cast<std::ptrdiff_t>(steps.size() / 2);
  std::nth_element(steps.begin(), middle, steps.end());
  // Stamps coarser than the sampling: the rows in between are spread.
  const auto count = static_cast<double>(steps.size());
  double rows_a_step = 1.0 + static_cast<double>(repeats) / count;
  if (rows_a_step < 1.5) rows_a_step = 1.0;
  const double step_s = static_cast<double>(*middle) / 1000.0;
  return {step_s / rows_a_step, step_s};
}

std::string zone_words(std::int32_t minutes) {
  if (minutes == 0) return "UTC";
  return fmt::format("zone {}{:02}:{:02}", minutes < 0 ? '-' : '+',
                     std::abs(minutes) / 60, std::abs(minutes) % 60);
}

std::string time_words(const DecodePlan& plan, bool split) {
  const auto words = [](const StampStyle& style) -> std::string {
    switch (style.kind) {
      case StampKind::epoch:
        return style.ms_per_count == 1e3    ? "seconds since 1970"
               : style.ms_per_count == 1.0  ? "milliseconds since 1970"
               : style.ms_per_count == 1e-3 ? "microseconds since 1970"
                                            : "nanoseconds since 1970";
      case StampKind::elapsed:
        return style.ms_per_count == 1e3     ? "elapsed seconds"
               : style.ms_per_count == 6e4   ? "elapsed minutes"
               : style.ms_per_count == 3.6e6 ? "elapsed hours"
                                             : "elapsed milliseconds";
      case StampKind::elapsed_clock:
        return "elapsed h:mm:ss";
      case StampKind::serial:
        return "spreadsheet day numbers";
      default:
        break;
    }
    const auto format = StampFormat::compile(style.pattern);
    return format ? format->in_words() : style.pattern;
  };
  std::string text = words(plan.time);
  if (split) text += " and " + words(plan.time_of_day);
  return text;
}

bool has_zone_item(const StampStyle& style) {
  return style.pattern.find("%z") != std::string::npos;
}

Error no_time_error(const ByteStore& store, const Table& table,
                    const std::vector<Column>& columns) {
  std::string names;
  for (const Column& column : columns) {
    if (names.size() > 60) {
      names += ", ...";
      break;
    }
    if (!names.empty()) names += ", ";
    names += printable(column.header.text, 24);
  }
  return Error{fmt::format("no column tells the time ({} columns: {})",
                           table.width, names),
               store.name(),
               "name it in a map: time = { column = 1, format = \"...\" }"};
}

}  // namespace

Result<Survey> survey_log(const ByteStore& store, const ReadOptions& options) {
  Survey survey;
  LogLayout& layout = survey.layout;
  DecodePlan& plan = survey.plan;
  survey.encoding = find_encoding(store);
  layout.file = store.name();
  layout.bytes = store.size();
  layout.encoding = name_of(survey.encoding.encoding);

  const Sample sample = take_sample(store, survey.encoding);
  const char delimiter = choose_delimiter(sample);
  if (delimiter == '\0') {
    return Error{
        "no table found: no comma, semicolon, tab or bar parts its lines into "
        "columns",
        store.name(), "is it a log? If so, export it as CSV"};
  }
  plan.delimiter = layout.delimiter = delimiter;
  const Table table = cut_sample(sample, delimiter);
  const DecimalMark decimal = choose_decimal(table, delimiter);
  plan.decimal = layout.decimal = decimal.mark;
  plan.decimal_proven = decimal.proven;

  const HeaderPlace place = find_header(table, decimal.mark);
  if (!place.header) {
    return Error{
        fmt::format("no header: no line of the log names its {} columns",
                    table.width),
        store.name(),
        "say what they are in a map (--save-map writes one to edit)"};
  }
  const Table::Row& header = table.rows[*place.header];
  layout.header_line = plan.header_line = header.line;
  plan.header_text = header.record->text;
  if (place.unit_row) {
    plan.unit_row_text = table.rows[*place.unit_row].record->text;
  }

  const std::vector<std::size_t> rows = data_rows(table, place);
  if (rows.empty()) {
    return Error{"a header, but no readings under it", store.name(),
                 "copy the log again from the logger"};
  }
  std::vector<Column> columns(table.width);
  std::vector<HeaderName> headers;
  std::vector<ColumnStats> stats;
  for (std::size_t i = 0; i < table.width; ++i) {
    Column& column = columns[i];
    column.header = parse_header(header.cells[i]);
    if (place.unit_row && !column.header.unit) {
      const std::string& text = table.rows[*place.unit_row].cells[i];
      std::string inner = text;
      if (inner.size() > 2 && (inner.front() == '(' || inner.front() == '[')) {
        inner = inner.substr(1, inner.size() - 2);
      }
      if (const auto unit = unit_of_text(inner)) {
        HeaderName with_unit =
            parse_header(header.cells[i] + " (" + inner + ")");
        with_unit.text = column.header.text;
        column.header = std::move(with_unit);
      }
    }
    column.stats = stats_of(table, rows, i, decimal);
    column.use.header = printable(column.header.text);
    headers.push_back(column.header);
    stats.push_back(column.stats);
  }

  const auto time =
      find_time_columns(table, rows, headers, stats, decimal.mark);
  if (!time) return no_time_error(store, table, columns);
  const StampPlace stamps{delimiter, table.width, time->main.column,
                          time->clock ? time->clock->column : ~std::size_t{0}};
  auto chosen = choose_date_order(store, survey.encoding, stamps,
                                  time->main.styles, options.date_order);
  if (!chosen) return chosen.error();
  plan.time = chosen->style;
  if (time->clock) plan.time_of_day = time->clock->styles.front();
  mark_time_columns(columns, *time);
  if (!chosen->why.empty()) {
    columns[time->main.column].use.why += ", " + chosen->why;
  }

  layout.elapsed = plan.time.kind == StampKind::elapsed ||
                   plan.time.kind == StampKind::elapsed_clock;
  plan.day_carry = plan.time.kind == StampKind::clock;
  const bool own_zone = has_zone_item(plan.time) ||
                        has_zone_item(plan.time_of_day) ||
                        plan.time.kind == StampKind::epoch;
  std::optional<std::int32_t> offset = options.utc_offset_min;
  if (!offset) {
    for (std::size_t i : {time->main.column, time->clock ? time->clock->column
                                                         : time->main.column}) {
      if (headers[i].zone_min) offset = headers[i].zone_min;
    }
  }
  if (!layout.elapsed) plan.utc_offset_min = offset;
  layout.zone_known = !layout.elapsed && (own_zone || offset);
  layout.time_format = time_words(plan, time->clock.has_value());
  if (!layout.elapsed) {
    if (own_zone) {
      if (plan.time.kind == StampKind::epoch) layout.time_format += ", UTC";
    } else {
      layout.time_format +=
          offset ? ", " + zone_words(*offset) : std::string(", no zone");
      if (!offset) {
        layout.notes.emplace_back(
            "the stamps name no time zone; --timezone gives one");
      }
    }
  }
  if (plan.day_carry) {
    layout.notes.emplace_back(
        "the log has times of day but no date: its first day is shown as "
        "1970-01-01");
  }
  const Interval interval = median_interval(table, rows, plan, *time);
  layout.interval_s = interval.row_s;
  survey.stamp_step_s = interval.stamp_s;

  understand_columns(columns, layout.notes);
  for (Column& column : columns) {
    layout.columns.push_back(std::move(column.use));
    plan.columns.push_back(std::move(column.plan));
  }
  return survey;
}

}  // namespace telltale::host
