// Finds the columns that tell the time, and how they are written.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "ingest/column.hpp"
#include "ingest/dialect.hpp"
#include "ingest/stamp_reader.hpp"

namespace telltale::host {

/// A column that may tell the time.
struct TimeCandidate {
  std::size_t column = 0;
  StampKind kind = StampKind::calendar;
  std::vector<StampStyle> styles;  // several: order of day and month open
  std::string clock_pattern;       // of elapsed_clock: as a time of day
  int score = 0;
  std::string why;
};

/// What was found. `columns` and `styles` are parallel: one column, or a date
/// and a time of day.
struct TimeColumns {
  TimeCandidate main;                  // time or date
  std::optional<TimeCandidate> clock;  // time of day beside a date
  std::vector<TimeCandidate> others;   // time columns that are not used
};

/// All columns that may tell the time.
std::vector<TimeCandidate> find_time_candidates(
    const Table& table, const std::vector<std::size_t>& rows,
    const std::vector<Column>& columns);

/// The best of them, or a date and a time of day together. Columns whose use is
/// settled already (`taken`) do not count. Nothing where none tells the time.
std::optional<TimeColumns> choose_time_columns(
    const std::vector<TimeCandidate>& candidates,
    const std::vector<bool>& taken);

}  // namespace telltale::host
