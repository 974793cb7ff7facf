// Decoding of one record.
#include "ingest/row_decoder.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <optional>

#include "ingest/header_switch.hpp"
#include "ingest/missing.hpp"

namespace telltale::host {
namespace {

constexpr double kNoValue = std::numeric_limits<double>::quiet_NaN();

bool is_blank_text(std::string_view text) {
  return text.find_first_not_of(" \t\r\f\v\x1a") == text.npos;
}

bool all_empty(const std::vector<Cell>& cells) {
  return std::all_of(cells.begin(), cells.end(),
                     [](Cell cell) { return cell.empty(); });
}

// `text` is `known`, but for blanks and line ends behind it.
bool is_same_line(std::string_view text, const std::string& known) {
  return !known.empty() && text.starts_with(known) &&
         is_blank_text(text.substr(known.size()));
}

}  // namespace

RowDecoder::RowDecoder(const DecodePlan& plan, ChannelMask wanted)
    : plan_(plan), wanted_(wanted), clock_(plan) {
  for (const ColumnPlan& column : plan_.columns) {
    if (column.role == Role::channel) {
      fresh_filters_[index_of(column.channel)] =
          CodeFilter(column.channel, column.only_codes, column.first_good);
    }
  }
  activate_columns();
}

void RowDecoder::activate_columns() {
  texts_.clear();
  channels_.clear();
  numbers_.columns.assign(width(), {});
  has_time_ = false;
  bool has_of_day = false;
  for (std::size_t i = 0; i < plan_.columns.size(); ++i) {
    const ColumnPlan& column = plan_.columns[i];
    const auto index = static_cast<std::uint32_t>(i);
    switch (column.role) {
      case Role::ignored:
        break;
      case Role::time:
      case Role::date:
        time_index_ = index;
        has_time_ = true;
        break;
      case Role::time_of_day:
        of_day_index_ = index;
        has_of_day = true;
        break;
      case Role::channel:
        if ((wanted_ & bit(column.channel)) == 0) break;
        channels_.push_back({index, column.channel, scale_of(column)});
        // Where the column has missing texts of its own, "0" may be one.
        numbers_.columns[i].expected = column.missing.empty();
        if (column.rows_per_reading > 1) {
          channels_.back().empty_rows_allowed = column.rows_per_reading * 3 / 2;
        }
        break;
      default:
        texts_.push_back({index, column.role});
    }
  }
  if (!has_of_day) of_day_index_ = time_index_;
  // The unit first: last good readings are kept for each.
  std::stable_partition(
      texts_.begin(), texts_.end(),
      [](const TextColumn& column) { return column.role == Role::unit; });
}

RowDecoder::Filters& RowDecoder::filters_of(std::size_t unit) {
  while (filters_.size() <= unit) {
    filters_.push_back(std::make_unique<Filters>(fresh_filters_));
  }
  return *filters_[unit];
}

LineFate RowDecoder::fate_before_cutting(const Record& record) const {
  const std::string_view text = record.text();
  if (text.empty() || (text.size() < 4096 && is_blank_text(text))) {
    return LineFate::blank;
  }
  if (record.too_long) return LineFate::too_long;
  if (record.has_nul) return LineFate::zero_bytes;
  if (text.front() == plan_.header_start &&
      is_same_line(text, plan_.header_text)) {
    return LineFate::header;
  }
  if (!plan_.unit_row_text.empty() && is_same_line(text, plan_.unit_row_text)) {
    return LineFate::unit_row;
  }
  return LineFate::accepted;
}

LineFate RowDecoder::decode(Record& record, Row& row) {
  const LineFate early = fate_before_cutting(record);
  if (early == LineFate::header && (switches_ > 0 || lost_)) {
    cut_cells(record, plan_.delimiter, cells_);
    unquote_cells(record, cells_);
    take_new_header(record);  // back to the first header's columns
  }
  if (early != LineFate::accepted) return early;
  cut(record);
  // A delimiter at the line's end makes one more, empty, cell.
  if (cells_.size() == width() + 1 && cells_.back().empty()) cells_.pop_back();
  if (cells_.size() != width()) return fate_of_misfit(record);
  if (record.quoting != Quoting::none) unquote_cells(record, cells_);
  return read_cells(record, row);
}

void RowDecoder::cut(const Record& record) {
  if (record.quoting == Quoting::none) {
    cut_and_read_cells(record, plan_.delimiter, plan_.decimal, cells_,
                       numbers_);
  } else {
    cut_cells(record, plan_.delimiter, cells_);
    for (auto& column : numbers_.columns) column.value = kNoValue;
  }
}

// A record of another width than the columns'.
LineFate RowDecoder::fate_of_misfit(const Record& record) {
  if (all_empty(cells_)) return LineFate::blank;
  if (record.text().front() == '#') return LineFate::comment;
  if (record.line < plan_.header_line) return LineFate::preamble;
  if (record.quoting == Quoting::unclosed) return LineFate::unclosed_quote;
  if (record.unterminated && cells_.size() < width()) return LineFate::cut_off;
  if (record.lines == 1) {
    unquote_cells(record, cells_);
    if (take_new_header(record)) return LineFate::header;
  }
  return LineFate::wrong_count;
}

LineFate RowDecoder::read_cells(const Record& record, Row& row) {
  row.line = record.line;
  row.present = 0;
  row.blank = 0;
  row.alarms = 0;
  row.unit = 0;
  row.state = EngineState::unknown;
  row.clock = ClockEvent::none;
  row.value.fill(kNoValue);
  if (!has_time_ ||
      !clock_.read(cells_[time_index_], cells_[of_day_index_], row.logged)) {
    if (all_empty(cells_)) return LineFate::blank;
    if (record.text().front() == '#') return LineFate::comment;
    if (record.line < plan_.header_line) return LineFate::preamble;
    if (record.quoting == Quoting::unclosed) return LineFate::unclosed_quote;
    return take_new_header(record) ? LineFate::header : LineFate::bad_time;
  }
  if (lost_) return LineFate::columns_changed;
  row.at = row.logged;
  Filters* filters = filters_.empty() ? &filters_of(0) : filters_[0].get();
  for (const TextColumn& column : texts_) {
    const Cell cell = cells_[column.index];
    switch (column.role) {
      case Role::state:
        row.state = states_.read(cell);
        break;
      case Role::alarm:
        row.alarms |= read_alarm(plan_.columns[column.index], cell);
        break;
      case Role::unit: {
        const auto number = units_.number_of(cell);
        if (!number) return LineFate::too_many_units;
        row.unit = *number;
        filters = &filters_of(row.unit);
        break;
      }
      default:
        break;
    }
  }
  read_channels(*filters, row);
  if (record.unterminated) doubt_last_cell(row);
  return LineFate::accepted;
}

AlarmMask RowDecoder::read_alarm(const ColumnPlan& plan, Cell cell) {
  return plan.alarm_name.empty() ? alarms_.read(cell)
                                 : alarms_.read_contact(plan.alarm_name, cell);
}

void RowDecoder::read_channels(Filters& filters, Row& row) {
  const NumberCells::Column* const numbers = numbers_.columns.data();
  ChannelMask present = 0;
  for (ChannelColumn& column : channels_) {
    double logged = numbers[column.index].value;
    if (std::isnan(logged) && !read_unread(column, row.line, logged)) {
      if (!is_between_readings(column, cells_[column.index])) {
        row.blank |= bit(column.channel);
      }
      continue;
    }
    column.empty_rows = 0;
    const std::size_t i = index_of(column.channel);
    const double value = logged * column.scale.scale + column.scale.offset;
    if (filters[i].refuses(value, logged)) {
      row.blank |= bit(column.channel);
      continue;
    }
    row.value[i] = value;
    present |= bit(column.channel);
  }
  row.present = present;
}

// A cell that was not read in passing. False where it holds no number.
bool RowDecoder::read_unread(ChannelColumn& column, std::uint64_t line,
                             double& logged) {
  const Cell cell = cells_[column.index];
  if (numbers_.columns[column.index].expected &&
      read_number(cell.data(), cell.data() + cell.size(), plan_.decimal,
                  logged)) {
    return true;
  }
  const NumberCell read = read_odd_cell(plan_.columns[column.index], cell,
                                        plan_.decimal, plan_.decimal_proven);
  logged = read.logged;
  if (read.odd && column.odd_count++ == 0) column.odd_line = line;
  return !std::isnan(logged);
}

// An empty cell of a slow column, whose next reading is not overdue.
bool RowDecoder::is_between_readings(ChannelColumn& column, Cell cell) {
  return column.empty_rows_allowed > 0 && is_left_out(cell) &&
         ++column.empty_rows <= column.empty_rows_allowed;
}

// The log ends without a line end. Where its last cell is shorter than any
// other of its column it is likely cut, and "59" is not 59.98.
void RowDecoder::doubt_last_cell(Row& row) const {
  const ColumnPlan& last = plan_.columns.back();
  if (last.role != Role::channel) return;
  const Cell cell = cells_.back();
  const std::size_t mark = cell.find(plan_.decimal);
  const std::size_t decimals = mark == cell.npos ? 0 : cell.size() - mark - 1;
  const bool cut = cell.size() < last.least_length ||
                   (last.fixed_decimals >= 0 &&
                    decimals < static_cast<std::size_t>(last.fixed_decimals));
  if (!cut || (row.present & bit(last.channel)) == 0) return;
  row.present &= ~bit(last.channel);
  row.blank |= bit(last.channel);
  row.value[index_of(last.channel)] = kNoValue;
}

// A header where a row should be: files with other columns were joined.
bool RowDecoder::take_new_header(const Record& record) {
  HeaderSwitch change = switch_header(plan_, cells_);
  if (change.kind == HeaderSwitch::Kind::no_header) return false;
  add_odd_cells(odd_cells_);
  lost_ = change.kind == HeaderSwitch::Kind::unknown_header;
  ++switches_;
  if (lost_) {
    for (ChannelColumn& column : channels_) column.odd_count = 0;
    notes_.push_back(fmt::format(
        "line {}: a header with other columns, among them no time; the rows "
        "under it are not read",
        record.line));
    return true;
  }
  plan_.columns = std::move(change.columns);
  activate_columns();  // counts of odd cells start anew
  if (switches_ < 20 && !change.note.empty()) {
    notes_.push_back(fmt::format("line {}: {}", record.line, change.note));
  }
  return true;
}

void RowDecoder::add_odd_cells(std::vector<OddCells>& to) const {
  for (const ChannelColumn& column : channels_) {
    if (column.odd_count == 0) continue;
    const std::string& header = plan_.columns[column.index].header;
    const auto known =
        std::find_if(to.begin(), to.end(),
                     [&](const OddCells& odd) { return odd.header == header; });
    if (known == to.end()) {
      to.push_back({header, column.odd_count, column.odd_line});
    } else {
      known->count += column.odd_count;
    }
  }
}

std::vector<OddCells> RowDecoder::odd_cells() const {
  std::vector<OddCells> all = odd_cells_;
  add_odd_cells(all);
  return all;
}

}  // namespace telltale::host
