// JournalPlan: how the columns of an alarm journal are read.
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "alarms/alarm_report.hpp"
#include "ingest/byte_store.hpp"
#include "ingest/map_file.hpp"
#include "ingest/stamp_reader.hpp"
#include "ingest/survey.hpp"
#include "support/result.hpp"

namespace telltale::host {

/// A table understood as a journal.
struct JournalPlan {
  Survey survey;  // layout, dialect, and the time of a row
  JournalShape shape = JournalShape::states;

  std::size_t time = 0;
  std::optional<std::size_t> time_of_day;
  std::optional<std::size_t> end;  // of intervals
  StampStyle end_style;
  std::optional<std::size_t> end_time_of_day;  // beside a date in `end`
  StampStyle end_clock_style;
  std::optional<std::size_t> duration;  // of intervals without an end
  double duration_s = 1.0;              // of one count in its column

  std::optional<std::size_t> name;
  std::optional<std::size_t> text;
  std::optional<std::size_t> priority;
  std::optional<std::size_t> state;
  std::optional<std::size_t> unit;
  std::optional<std::size_t> spn;
  std::optional<std::size_t> fmi;
  std::optional<std::size_t> came;  // of on_and_off
  std::optional<std::size_t> went;
  struct Contact {
    std::size_t column = 0;
    std::string name;
  };
  std::vector<Contact> contacts;
};

/// Understands a file as a journal; nothing where its rows are readings over
/// time, which a log reader should read. An Error where it is no table at all,
/// or its time can't be told. `map` may be null.
Result<std::optional<JournalPlan>> plan_journal(const ByteStore& store,
                                                const ReadOptions& options,
                                                const LogMap* map);

}  // namespace telltale::host
