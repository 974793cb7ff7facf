// Readings gathered into rows.
#include "ingest/tall_source.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <utility>

#include "ingest/duplicate_set.hpp"
#include "ingest/unit_text.hpp"
#include "support/safe_text.hpp"

namespace telltale::host {

TallSource::TallSource(std::shared_ptr<const ByteStore> store,
                       const Survey& survey, ChannelMask wanted,
                       LineLedger& ledger)
    : store_(std::move(store)),
      plan_(survey.plan),
      wanted_(wanted),
      reader_(store_, survey, ledger),
      clock_(plan_) {
  for (std::size_t i = 0; i < plan_.columns.size(); ++i) {
    switch (plan_.columns[i].role) {
      case Role::time:
      case Role::date:
        time_index_ = i;
        if (!plan_.split_time) of_day_index_ = i;
        break;
      case Role::time_of_day:
        of_day_index_ = i;
        break;
      case Role::reading_name:
        name_index_ = i;
        break;
      case Role::reading_value:
        value_index_ = i;
        break;
      case Role::reading_unit:
        unit_text_index_ = i;
        break;
      case Role::unit:
        set_index_ = i;
        break;
      default:
        break;
    }
  }
  for (const ColumnPlan& plan : plan_.readings) {
    numbers_.emplace(plan.header, readings_.size());
    Reading reading{&plan, {}};
    if (plan.role == Role::channel) {
      reading.scale = scale_of(plan);
      fresh_filters_[index_of(plan.channel)] =
          CodeFilter(plan.channel, plan.only_codes, plan.first_good);
    }
    // A set is named by a column of its own, not by a reading.
    const bool is_reading = plan.role == Role::channel ||
                            plan.role == Role::state ||
                            plan.role == Role::alarm;
    if (!is_reading) reading.plan = nullptr;
    readings_.push_back(reading);
  }
}

bool TallSource::next(RawRow& raw) {
  for (;;) {
    if (ready_at_ < ready_.size()) {
      raw = ready_[ready_at_++];
      raw.text = {};
      return true;
    }
    ready_.clear();
    ready_at_ = 0;
    if (done_) return false;
    Record record;
    if (reader_.next(record)) {
      const LineFate fate = take(record);
      reader_.book(fate, record, "");
    } else {
      done_ = true;
      for (Sample& sample : samples_) close(sample);
    }
  }
}

LineFate TallSource::take(Record& record) {
  const std::string_view text = record.text();
  if (text.find_first_not_of(" \t\r\x1a") == text.npos) return LineFate::blank;
  if (record.too_long) return LineFate::too_long;
  if (record.has_nul) return LineFate::zero_bytes;
  if (text.starts_with(plan_.header_text)) return LineFate::header;
  const std::uint64_t print = fingerprint(text, 0);
  cut_cells(record, plan_.delimiter, cells_);
  const std::size_t width = plan_.columns.size();
  if (cells_.size() == width + 1 && cells_.back().empty()) cells_.pop_back();
  const bool above = record.line < plan_.header_line;
  if (cells_.size() != width) {
    if (text.front() == '#') return LineFate::comment;
    if (above) return LineFate::preamble;
    if (record.quoting == Quoting::unclosed) return LineFate::unclosed_quote;
    return record.unterminated && cells_.size() < width ? LineFate::cut_off
                                                        : LineFate::wrong_count;
  }
  unquote_cells(record, cells_);
  TimeMs stamp;
  if (!clock_.read(cells_[time_index_], cells_[of_day_index_], stamp)) {
    return above ? LineFate::preamble : LineFate::bad_time;
  }
  const std::string name = printable(cells_[name_index_]);
  const auto found = numbers_.find(name);
  if (found == numbers_.end() || readings_[found->second].plan == nullptr) {
    const bool seen =
        std::find(plan_.reading_names.begin(), plan_.reading_names.end(),
                  name) != plan_.reading_names.end();
    if (!seen &&
        (unknown_names_.size() < 64 || unknown_names_.contains(name))) {
      ++unknown_names_[name];
    }
    return LineFate::not_used;
  }
  std::size_t unit = 0;
  if (set_index_) {
    const auto number = units_.number_of(cells_[*set_index_]);
    if (!number) return LineFate::too_many_units;
    unit = *number;
  }
  while (samples_.size() <= unit) samples_.emplace_back();
  Sample& sample = samples_[unit];
  const std::size_t name_bit = found->second % kMostNames;
  if (sample.open) {
    const std::int64_t apart = (stamp - sample.row.logged).ms;
    if (apart < 0 || apart > plan_.sample_ms || sample.names.test(name_bit)) {
      close(sample);
    }
  }
  if (!sample.open) {
    sample = Sample{};
    sample.open = true;
    sample.row.logged = sample.row.at = stamp;
    sample.row.line = record.line;
    sample.row.unit = static_cast<std::uint16_t>(unit);
    sample.row.value.fill(std::numeric_limits<double>::quiet_NaN());
  }
  sample.names.set(name_bit);
  sample.print = sample.print * 31 + print;
  sample.lines += record.lines;
  put(readings_[found->second], unit, record.line, sample);
  return LineFate::accepted;
}

bool TallSource::put(Reading& reading, std::size_t unit, std::uint64_t line,
                     Sample& sample) {
  const Cell cell = cells_[value_index_];
  Row& row = sample.row;
  const ColumnPlan& plan = *reading.plan;
  if (plan.role == Role::state) {
    row.state = states_.read(cell);
    return true;
  }
  if (plan.role == Role::alarm) {
    row.alarms |= plan.alarm_name.empty()
                      ? alarms_.read(cell)
                      : alarms_.read_contact(plan.alarm_name, cell);
    return true;
  }
  const ChannelMask mask = bit(plan.channel);
  if ((wanted_ & mask) == 0) return false;
  while (filters_.size() <= unit) {
    filters_.push_back(std::make_unique<Filters>(fresh_filters_));
  }
  const NumberCell read =
      read_number_cell(plan, cell, plan_.decimal, plan_.decimal_proven);
  if (read.odd && reading.odd_count++ == 0) reading.odd_line = line;
  double value = read.logged * reading.scale.scale + reading.scale.offset;
  // A reading whose own unit is another than the usual one.
  if (unit_text_index_ && !std::isnan(value)) {
    const Cell own = cells_[*unit_text_index_];
    if (!own.empty() && own != plan.unit_text) {
      const auto spelled = unit_of_text(own);
      const auto there =
          spelled ? conversion(spelled->unit, info_of(plan.channel).unit)
                  : std::nullopt;
      if (there) value = there->to_canonical(read.logged * spelled->scale);
    }
  }
  const std::size_t i = index_of(plan.channel);
  if (std::isnan(value) || (*filters_[unit])[i].refuses(value, read.logged)) {
    row.blank |= mask & ~row.present;
    return false;
  }
  row.value[i] = value;
  row.present |= mask;
  row.blank &= ~mask;
  return true;
}

void TallSource::close(Sample& sample) {
  if (!sample.open) return;
  sample.open = false;
  RawRow raw;
  raw.row = sample.row;
  raw.print = sample.print;
  raw.lines = sample.lines;
  ready_.push_back(raw);
}

std::vector<std::string> TallSource::notes() const {
  std::vector<std::string> notes;
  if (!reader_.trouble().empty()) notes.push_back(reader_.trouble());
  std::vector<OddCells> odd;
  for (const Reading& reading : readings_) {
    if (reading.odd_count == 0) continue;
    odd.push_back({reading.plan->header, reading.odd_count, reading.odd_line});
  }
  for (std::string& note : notes_of(odd)) notes.push_back(std::move(note));
  for (const auto& [name, count] : unknown_names_) {
    notes.push_back(fmt::format(
        "\"{}\": a reading that comes late in the log and is not used ({} "
        "lines)",
        name, count));
  }
  return notes;
}

}  // namespace telltale::host
