// How every column of a log is read: the compiled form of a layout.
#pragma once

#include <cstdint>
#include <limits>
#include <optional>
#include <string>
#include <vector>

#include "ingest/stamp_reader.hpp"
#include "support/units.hpp"
#include "telltale/acquire/channel.hpp"

namespace telltale::host {

enum class Role : std::uint8_t {
  ignored,
  time,
  date,
  time_of_day,
  unit,
  state,
  alarm,
  channel
};

struct ColumnPlan {
  Role role = Role::ignored;
  Channel channel = Channel::none;
  /// Readings are logged in this unit, after `scale` and `offset`.
  LogUnit unit = LogUnit::none;
  /// canonical = logged * to_canonical.scale + to_canonical.offset
  Conversion to_canonical;
  /// logged (in `unit`) = cell * scale + offset
  double scale = 1.0;
  double offset = 0.0;
  /// Texts that mean "no reading" here, beside the usual ones.
  std::vector<std::string> missing;
  /// Every reading is one bus code: see CodeFilter.
  bool only_codes = false;
  /// A good reading from the log's beginning (canonical), for CodeFilter.
  double first_good = std::numeric_limits<double>::quiet_NaN();
};

/// Everything that reading rows needs to know about the log.
struct DecodePlan {
  char delimiter = ',';
  char decimal = '.';
  bool decimal_proven = false;  // single groups of thousands may be read
  std::vector<ColumnPlan> columns;
  StampStyle time;                // of time or date
  StampStyle time_of_day;         // of time_of_day, where there is one
  bool day_carry = false;         // a clock without a date: count days oneself
  std::int64_t first_day_ms = 0;  // the day such a clock starts on
  std::optional<std::int32_t> utc_offset_min;  // of stamps without zone
  std::uint64_t header_line = 0;
  std::string header_text;    // raw, to know it again; empty: none
  std::string unit_row_text;  // raw; empty: none
};

}  // namespace telltale::host
