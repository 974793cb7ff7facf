// A row's time from its cells.
#pragma once

#include <cstdint>

#include "ingest/column_plan.hpp"
#include "ingest/csv_source.hpp"
#include "ingest/stamp_reader.hpp"
#include "telltale/base/time.hpp"

namespace telltale::host {

/// Reads the time cells of rows that follow each other: one cell, or a date
/// and a time of day. A clock without date is given days by counting its
/// midnights. Stamps without zone are moved to UTC where the plan knows how.
class RowClock {
 public:
  explicit RowClock(const DecodePlan& plan);

  /// `of_day` counts where the plan has a date and a time of day.
  bool read(Cell time, Cell of_day, TimeMs& stamp);

 private:
  StampReader time_;
  StampReader of_day_;
  bool split_;
  bool day_carry_;
  std::int64_t zone_shift_ms_;
  std::int64_t days_ms_;
  std::int64_t last_ms_ = -1;
};

}  // namespace telltale::host
