// JournalRows: the records of a journal as events, in order of the file.
#pragma once

#include <cstdint>
#include <memory>
#include <string>
#include <unordered_map>
#include <vector>

#include "alarms/alarm_table.hpp"
#include "alarms/event.hpp"
#include "alarms/journal_plan.hpp"
#include "ingest/line_ledger.hpp"
#include "ingest/record_reader.hpp"
#include "ingest/row_clock.hpp"

namespace telltale::host {

/// What a row says happened, with the time as logged.
struct JournalRow {
  TimeMs logged;
  std::uint64_t line = 0;
  std::string_view unit;  // valid until the next row
  struct Happening {
    TimeMs logged;
    std::uint32_t alarm = 0;
    EventKind kind = EventKind::raised;
    bool paired = false;
  };
  std::vector<Happening> events;
};

class JournalRows {
 public:
  /// Each line is booked in `ledger`; `names` grows with the alarms met.
  JournalRows(std::shared_ptr<const ByteStore> store, const JournalPlan& plan,
              LineLedger& ledger, AlarmTable& names);

  /// The next row; false at the end. `times_only`: `events` stays empty and no
  /// alarm is named.
  bool next(JournalRow& row, bool times_only = false);

  /// What was odd on the way, for people.
  [[nodiscard]] std::vector<std::string> notes() const;

 private:
  LineFate decode(Record& record, JournalRow& row, bool times_only);
  void read_events(JournalRow& row);
  void read_list(std::string_view cell, EventKind kind, JournalRow& row);
  void read_contacts(JournalRow& row);
  bool read_end(JournalRow& row, TimeMs& end, bool& open);
  [[nodiscard]] std::string_view cell_of(
      const std::optional<std::size_t>& column) const {
    return column ? std::string_view(cells_[*column]) : std::string_view();
  }
  std::optional<EventKind> kind_of(std::string_view text);
  std::uint32_t alarm_of(std::string_view unit);
  std::uint32_t number_of(std::string_view unit, std::string_view name);

  const JournalPlan& plan_;
  RecordReader reader_;
  RowClock clock_;
  RowClock end_clock_;
  LineLedger& ledger_;
  AlarmTable& names_;
  std::vector<Cell> cells_;
  std::string name_;
  std::string code_word_;  // before a bare number: "code 9"
  bool bare_codes_ = false;
  /// States of contacts: of each unit one a column.
  std::unordered_map<std::string, std::vector<std::int8_t>> contacts_;
  std::string unit_key_;
  /// Words for states come again and again.
  std::unordered_map<std::string, std::optional<EventKind>> kinds_;
  std::string kind_key_;
  std::uint64_t odd_states_ = 0;
  std::uint64_t odd_state_line_ = 0;
  std::uint64_t backwards_ = 0;
  std::uint64_t backwards_line_ = 0;
  std::uint64_t odd_ends_ = 0;
  std::uint64_t odd_end_line_ = 0;
};

}  // namespace telltale::host
