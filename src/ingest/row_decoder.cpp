// Decoding of one record.
#include "ingest/row_decoder.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "ingest/missing.hpp"
#include "ingest/unit_text.hpp"
#include "support/civil_time.hpp"
#include "support/number.hpp"

namespace telltale::host {
namespace {

constexpr double kNoValue = std::numeric_limits<double>::quiet_NaN();

bool is_blank_text(std::string_view text) {
  return text.find_first_not_of(" \t\r\f\v\x1a") == text.npos;
}

}  // namespace

RowDecoder::RowDecoder(const DecodePlan& plan, ChannelMask wanted)
    : plan_(plan),
      width_(plan.columns.size()),
      odd_cells_(plan.columns.size()) {
  for (std::size_t i = 0; i < plan_.columns.size(); ++i) {
    const ColumnPlan& column = plan_.columns[i];
    if (column.role == Role::ignored) continue;
    ActiveColumn active{static_cast<std::uint32_t>(i),
                        column.role,
                        column.channel,
                        1.0,
                        0.0,
                        &column};
    if (column.role == Role::channel) {
      if ((wanted & bit(column.channel)) == 0) continue;
      active.scale = column.to_canonical.scale * column.scale;
      active.offset = column.to_canonical.scale * column.offset +
                      column.to_canonical.offset;
      fresh_filters_[index_of(column.channel)] =
          CodeFilter(column.channel, column.only_codes, column.first_good);
    }
    active_.push_back(active);
  }
  if (auto reader = StampReader::of(plan_.time, plan_.decimal)) {
    time_ = *std::move(reader);
  }
  if (auto reader = StampReader::of(plan_.time_of_day, plan_.decimal)) {
    clock_ = *std::move(reader);
  }
  zone_shift_ms_ = plan_.utc_offset_min.value_or(0) * kMsPerMinute;
  carried_days_ms_ = plan_.first_day_ms;
  cells_.reserve(width_ + 1);
}

RowDecoder::Filters& RowDecoder::filters_of(std::size_t unit) {
  while (filters_.size() <= unit) {
    filters_.push_back(std::make_unique<Filters>(fresh_filters_));
  }
  return *filters_[unit];
}

LineFate RowDecoder::fate_before_cutting(const Record& record) const {
  if (is_blank_text(record.text())) return LineFate::blank;
  if (record.too_long) return LineFate::too_long;
  if (record.has_nul) return LineFate::zero_bytes;
  const std::string_view text = record.text();
  if (!plan_.header_text.empty() && text.starts_with(plan_.header_text) &&
      is_blank_text(text.substr(plan_.header_text.size()))) {
    return LineFate::header;
  }
  if (!plan_.unit_row_text.empty() && text == plan_.unit_row_text) {
    return LineFate::unit_row;
  }
  return LineFate::accepted;
}

LineFate RowDecoder::decode(Record& record, Row& row) {
  const LineFate early = fate_before_cutting(record);
  if (early != LineFate::accepted) return early;
  cut_cells(record, plan_.delimiter, cells_);
  // A delimiter at the line's end makes one more, empty, cell.
  if (cells_.size() == width_ + 1 && cells_.back().empty()) cells_.pop_back();
  if (cells_.size() != width_) {
    if (std::all_of(cells_.begin(), cells_.end(),
                    [](Cell cell) { return cell.empty(); })) {
      return LineFate::blank;
    }
    if (record.line < plan_.header_line) return LineFate::preamble;
    if (record.quoting == Quoting::unclosed) return LineFate::unclosed_quote;
    return record.unterminated && cells_.size() < width_
               ? LineFate::cut_off
               : LineFate::wrong_count;
  }
  unquote_cells(record, cells_);
  const LineFate fate = read_cells(record, row);
  if (fate != LineFate::accepted && record.line < plan_.header_line) {
    return LineFate::preamble;
  }
  return fate;
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
  time_cell_ = clock_cell_ = {};
  // The unit first: last good readings are kept for each.
  for (const ActiveColumn& column : active_) {
    if (column.role == Role::unit && !read_unit(cells_[column.index], row)) {
      return LineFate::too_many_units;
    }
    if (column.role == Role::time || column.role == Role::date) {
      time_cell_ = cells_[column.index];
    }
    if (column.role == Role::time_of_day) clock_cell_ = cells_[column.index];
  }
  if (!read_time(row)) {
    const bool all_empty = std::all_of(cells_.begin(), cells_.end(),
                                       [](Cell cell) { return cell.empty(); });
    return all_empty ? LineFate::blank : LineFate::bad_time;
  }
  Filters& filters = filters_of(row.unit);
  for (const ActiveColumn& column : active_) {
    const Cell cell = cells_[column.index];
    switch (column.role) {
      case Role::channel:
        read_number_cell(column, cell, record.line, filters, row);
        break;
      case Role::state:
        row.state = states_.read(cell);
        break;
      case Role::alarm:
        row.alarms |= alarms_.read(cell);
        break;
      default:
        break;
    }
  }
  return LineFate::accepted;
}

bool RowDecoder::read_time(Row& row) {
  std::int64_t ms = 0;
  bool has_zone = false;
  if (!time_.read(time_cell_, ms, has_zone)) return false;
  if (plan_.time.kind == StampKind::date) {
    std::int64_t clock_ms = 0;
    bool clock_zone = false;
    if (!clock_.read(clock_cell_, clock_ms, clock_zone)) return false;
    ms += clock_ms;
    has_zone = has_zone || clock_zone;
  } else if (plan_.day_carry) {
    // A clock that goes back by half a day or more has passed midnight.
    if (last_clock_ms_ >= 0 && ms + kMsPerDay / 2 < last_clock_ms_) {
      carried_days_ms_ += kMsPerDay;
    }
    last_clock_ms_ = ms;
    ms += carried_days_ms_;
  }
  if (!has_zone) ms -= zone_shift_ms_;
  row.logged = TimeMs{ms};
  row.at = row.logged;
  return true;
}

void RowDecoder::read_number_cell(const ActiveColumn& column, Cell cell,
                                  std::uint64_t line, Filters& filters,
                                  Row& row) {
  const std::size_t i = index_of(column.channel);
  double logged = 0;
  if (!read_number(cell.data(), cell.data() + cell.size(), plan_.decimal,
                   logged) ||
      !column.plan->missing.empty()) {
    bool odd = false;
    logged = slow_number(column, cell, odd);
    if (odd) {
      OddCells& odds = odd_cells_[column.index];
      if (odds.count++ == 0) odds.first_line = line;
    }
  }
  const double value = logged * column.scale + column.offset;
  if (std::isnan(value) || filters[i].refuses(value, logged)) {
    row.blank |= bit(column.channel);
    return;
  }
  row.value[i] = value;
  row.present |= bit(column.channel);
}

// Whatever is no plain number: a missing reading (NaN), a reading with its
// unit, thousands in groups.
double RowDecoder::slow_number(const ActiveColumn& column, Cell cell,
                               bool& odd) const {
  const ColumnPlan& plan = *column.plan;
  for (const std::string& missing : plan.missing) {
    if (cell == missing) return kNoValue;
  }
  if (const auto plain = parse_number(cell, plan_.decimal)) return *plain;
  if (is_missing_word(cell)) return kNoValue;
  const Grouping grouping =
      plan_.decimal_proven ? Grouping::proven : Grouping::possible;
  if (const auto grouped =
          parse_grouped_number(cell, plan_.decimal, grouping)) {
    return *grouped;
  }
  if (const auto split = parse_number_prefix(cell, plan_.decimal)) {
    if (const auto unit = unit_of_text(split->suffix)) {
      const Unit canonical = info_of(column.channel).unit;
      if (unit->unit == plan.unit) return split->value * unit->scale;
      // Another unit of the same quantity: into the column's own.
      const auto there = conversion(unit->unit, canonical);
      if (there && plan.unit != LogUnit::none) {
        const double value = there->to_canonical(split->value * unit->scale);
        return (value - column.offset) / column.scale;
      }
    }
  }
  odd = true;
  return kNoValue;
}

bool RowDecoder::read_unit(Cell cell, Row& row) {
  if (cell == last_unit_ && !unit_names_.empty()) {
    row.unit = last_unit_number_;
    return true;
  }
  const std::string name(cell);
  const auto found = unit_numbers_.find(name);
  if (found != unit_numbers_.end()) {
    last_unit_number_ = found->second;
  } else {
    if (unit_names_.size() >= kMaxUnits) return false;
    last_unit_number_ = static_cast<std::uint16_t>(unit_names_.size());
    unit_names_.push_back(name);
    unit_numbers_.emplace(name, last_unit_number_);
  }
  last_unit_ = name;
  row.unit = last_unit_number_;
  return true;
}

}  // namespace telltale::host
