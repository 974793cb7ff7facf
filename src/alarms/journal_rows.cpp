// From records to events.
#include "alarms/journal_rows.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <utility>

#include "alarms/event_words.hpp"
#include "alarms/fault_codes.hpp"
#include "ingest/missing.hpp"
#include "ingest/text_columns.hpp"
#include "support/number.hpp"
#include "support/safe_text.hpp"

namespace telltale::host {
namespace {

DecodePlan end_plan_of(const JournalPlan& plan) {
  DecodePlan end = plan.survey.plan;
  if (plan.end) end.time = plan.end_style;
  end.split_time = plan.end_time_of_day.has_value();
  if (end.split_time) end.time_of_day = plan.end_clock_style;
  return end;
}

bool is_blank_text(std::string_view text) {
  return text.find_first_not_of(" \t\r\f\v\x1a") == text.npos;
}

bool is_digits(std::string_view text) {
  return !text.empty() && text.find_first_not_of("0123456789") == text.npos;
}

}  // namespace

JournalRows::JournalRows(std::shared_ptr<const ByteStore> store,
                         const JournalPlan& plan, LineLedger& ledger,
                         AlarmTable& names)
    : plan_(plan),
      reader_(std::move(store), plan.survey, ledger),
      clock_(plan.survey.plan),
      end_clock_(end_plan_of(plan)),
      ledger_(ledger),
      names_(names) {
  if (plan.name) {
    code_word_ = printable(plan.survey.layout.columns[*plan.name].header, 40);
    std::string folded = code_word_;
    for (char& c : folded) c = static_cast<char>(c | 0x20);
    bare_codes_ =
        folded.find("spn") != folded.npos || folded.find("dtc") != folded.npos;
  }
}

bool JournalRows::next(JournalRow& row, bool times_only) {
  Record record;
  while (reader_.next(record)) {
    const LineFate fate = decode(record, row, times_only);
    std::string detail;
    if (fate == LineFate::wrong_count || fate == LineFate::cut_off) {
      detail = fmt::format("{}, not {}", cells_.size(),
                           plan_.survey.layout.columns.size());
    }
    reader_.book(fate, record, detail);
    if (fate == LineFate::accepted) {
      ++ledger_.tally.rows;
      return true;
    }
  }
  return false;
}

LineFate JournalRows::decode(Record& record, JournalRow& row, bool times_only) {
  const DecodePlan& plan = plan_.survey.plan;
  const std::size_t width = plan_.survey.layout.columns.size();
  const std::string_view text = record.text();
  row.events.clear();
  if (is_blank_text(text)) return LineFate::blank;
  if (record.too_long) return LineFate::too_long;
  if (record.has_nul) return LineFate::zero_bytes;
  if (!plan.header_text.empty() && text.starts_with(plan.header_text) &&
      is_blank_text(text.substr(plan.header_text.size()))) {
    return LineFate::header;
  }
  cut_cells(record, plan.delimiter, cells_);
  if (cells_.size() == width + 1 && cells_.back().empty()) cells_.pop_back();
  if (cells_.size() != width) {
    if (text.front() == '#') return LineFate::comment;
    if (record.line < plan.header_line) return LineFate::preamble;
    if (record.quoting == Quoting::unclosed) return LineFate::unclosed_quote;
    if (record.unterminated && cells_.size() < width) return LineFate::cut_off;
    return LineFate::wrong_count;
  }
  if (record.quoting != Quoting::none) unquote_cells(record, cells_);
  const Cell of_day = cells_[plan_.time_of_day.value_or(plan_.time)];
  if (!clock_.read(cells_[plan_.time], of_day, row.logged)) {
    if (text.front() == '#') return LineFate::comment;
    if (record.line < plan.header_line) return LineFate::preamble;
    return LineFate::bad_time;
  }
  row.line = record.line;
  row.unit = cell_of(plan_.unit);
  if (!times_only) read_events(row);
  return LineFate::accepted;
}

std::uint32_t JournalRows::number_of(std::string_view unit,
                                     std::string_view name) {
  bool fresh = false;
  const std::uint32_t alarm = names_.number_of(unit, name, fresh);
  if (!fresh) return alarm;
  AlarmName& named = names_[alarm];
  named.priority = printable(cell_of(plan_.priority), 80);
  named.text = printable(cell_of(plan_.text), 200);
  if (const auto code = fault_code_of(named.name, bare_codes_)) {
    if (named.text.empty()) named.text = text_of(*code);
  }
  named.unit = printable(named.unit, 80);
  named.name = printable(named.name, 200);
  settle_role(named);
  return alarm;
}

std::optional<EventKind> JournalRows::kind_of(std::string_view text) {
  constexpr std::size_t kMostKept = 64;
  kind_key_.assign(text);
  const auto known = kinds_.find(kind_key_);
  if (known != kinds_.end()) return known->second;
  const auto kind = event_of_text(text);
  if (kinds_.size() < kMostKept) kinds_.emplace(kind_key_, kind);
  return kind;
}

std::uint32_t JournalRows::alarm_of(std::string_view unit) {
  if (plan_.spn && plan_.fmi) {
    const std::string_view spn = cell_of(plan_.spn);
    const std::string_view fmi = cell_of(plan_.fmi);
    const auto code = fault_code_of(spn, fmi);
    return number_of(
        unit, code ? name_of(*code) : fmt::format("SPN {} FMI {}", spn, fmi));
  }
  const std::string_view cell = cell_of(plan_.name);
  if (!is_digits(cell)) return number_of(unit, cell);
  name_.assign(code_word_);
  name_ += ' ';
  name_ += cell;
  return number_of(unit, name_);
}

// Reads when the alarm of a row went; false where nothing says so.
bool JournalRows::read_end(JournalRow& row, TimeMs& end, bool& open) {
  open = false;
  if (plan_.end) {
    const Cell cell = cells_[*plan_.end];
    const Cell of_day = cells_[plan_.end_time_of_day.value_or(*plan_.end)];
    if (end_clock_.read(cell, of_day, end)) return true;
    open = true;
    if (!is_missing_word(cell) && odd_ends_++ == 0) odd_end_line_ = row.line;
    return false;
  }
  const std::string_view cell = cell_of(plan_.duration);
  double count = 0.0;
  if (read_number(cell.data(), cell.data() + cell.size(),
                  plan_.survey.plan.decimal, count) &&
      count >= 0.0 && count < 1e11) {
    end = row.logged +
          DurationMs{std::llround(count * plan_.duration_s * 1000.0)};
    return true;
  }
  if (const auto ms = parse_elapsed(cell)) {
    end = row.logged + DurationMs{*ms};
    return true;
  }
  open = true;
  if (!is_missing_word(cell) && odd_ends_++ == 0) odd_end_line_ = row.line;
  return false;
}

void JournalRows::read_events(JournalRow& row) {
  switch (plan_.shape) {
    case JournalShape::intervals: {
      const std::uint32_t alarm = alarm_of(row.unit);
      TimeMs end = row.logged;
      bool open = false;
      const bool ends = read_end(row, end, open);
      if (ends && end < row.logged) {
        if (backwards_++ == 0) backwards_line_ = row.line;
        end = row.logged;
      }
      row.events.push_back({row.logged, alarm, EventKind::raised, ends});
      if (ends) row.events.push_back({end, alarm, EventKind::cleared, true});
      return;
    }
    case JournalShape::states: {
      const auto kind = kind_of(cell_of(plan_.state));
      if (!kind) {
        if (odd_states_++ == 0) odd_state_line_ = row.line;
        return;
      }
      row.events.push_back({row.logged, alarm_of(row.unit), *kind, false});
      return;
    }
    case JournalShape::on_and_off:
      read_list(cell_of(plan_.went), EventKind::cleared, row);
      read_list(cell_of(plan_.came), EventKind::raised, row);
      return;
    case JournalShape::contacts:
      read_contacts(row);
      return;
    default:
      row.events.push_back(
          {row.logged, alarm_of(row.unit), EventKind::raised, false});
  }
}

void JournalRows::read_list(std::string_view cell, EventKind kind,
                            JournalRow& row) {
  while (!cell.empty()) {
    const std::size_t end = std::min(cell.find_first_of(";|"), cell.size());
    std::string_view one = cell.substr(0, end);
    cell.remove_prefix(std::min(end + 1, cell.size()));
    while (!one.empty() && one.front() == ' ') one.remove_prefix(1);
    while (!one.empty() && one.back() == ' ') one.remove_suffix(1);
    if (means_no_alarm(one)) continue;
    row.events.push_back({row.logged, number_of(row.unit, one), kind, false});
  }
}

void JournalRows::read_contacts(JournalRow& row) {
  unit_key_.assign(row.unit);
  auto [found, fresh] = contacts_.try_emplace(unit_key_);
  std::vector<std::int8_t>& states = found->second;
  if (fresh) states.assign(plan_.contacts.size(), -1);
  for (std::size_t i = 0; i < plan_.contacts.size(); ++i) {
    const Cell cell = cells_[plan_.contacts[i].column];
    const bool yes = means_yes(cell);
    // A blank says nothing new.
    if (!yes && (cell.empty() || !means_no(cell))) continue;
    const std::int8_t was = std::exchange(states[i], std::int8_t{yes});
    if (was == std::int8_t{yes} || (was < 0 && !yes)) continue;
    const EventKind kind = !yes      ? EventKind::cleared
                           : was < 0 ? EventKind::stood
                                     : EventKind::raised;
    row.events.push_back(
        {row.logged, number_of(row.unit, plan_.contacts[i].name), kind, false});
  }
}

std::vector<std::string> JournalRows::notes() const {
  std::vector<std::string> notes;
  if (!reader_.trouble().empty()) notes.push_back(reader_.trouble());
  const auto add = [&notes](std::uint64_t count, std::uint64_t line,
                            std::string_view what) {
    if (count == 0) return;
    notes.push_back(fmt::format("{} row{} (the first in line {}) {}", count,
                                count == 1 ? "" : "s", line, what));
  };
  add(odd_states_, odd_state_line_,
      "say neither that an alarm came nor that it went or was seen: not "
      "counted");
  add(backwards_, backwards_line_,
      "end before they begin: counted as of no length");
  add(odd_ends_, odd_end_line_,
      "have an end that is no time: counted as standing");
  return notes;
}

}  // namespace telltale::host
