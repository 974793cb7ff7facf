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
  channel,
  // of a log with one reading a row
  reading_name,
  reading_value,
  reading_unit
};

struct ColumnPlan {
  std::string header;
  std::string unit_text;   // of a tall table: the usual unit, as spelled
  std::string alarm_name;  // of an alarm column of yes and no: its alarm
  std::string set;  // the set it is of, where the log has several side by
                    // side; empty: all of them
  Role role = Role::ignored;
  Channel channel = Channel::none;
  /// Readings are logged in this unit, after `scale` and `offset`.
  LogUnit unit = LogUnit::none;
  /// canonical = to_canonical(cell * scale + offset)
  Conversion to_canonical;
  double scale = 1.0;
  double offset = 0.0;
  /// Texts that mean "no reading" here, beside the usual ones.
  std::vector<std::string> missing;
  /// Every reading is one bus code: see CodeFilter.
  bool only_codes = false;
  /// A good reading from the log's beginning (canonical), for CodeFilter.
  double first_good = std::numeric_limits<double>::quiet_NaN();
  /// Digits after the mark, where all readings have the same; -1 where not.
  int fixed_decimals = -1;
  /// Rows from one reading to the next; more than 1 in a slow column, whose
  /// empty cells in between are no missing readings.
  std::size_t rows_per_reading = 1;
  /// Length of the shortest reading.
  std::size_t least_length = 0;
};

/// How rows and readings lie in the table.
enum class TableShape : std::uint8_t {
  wide,          // one row a sample, one column a channel
  tall,          // one row a reading: time, name, value
  tall_by_name,  // the same, all of a name together
  pairs,         // columns in groups, each led by a time column of its own
  side_by_side   // one row a sample of several sets, each with its columns
};

/// A log whose newest row comes first, and is read from its end.
struct NewestFirst {
  std::uint64_t head_bytes = 0;  // up to the first row
  std::uint64_t head_lines = 0;
  std::uint64_t lines = 0;  // of the whole log
};

/// Everything that reading rows needs to know about the log.
struct DecodePlan {
  TableShape shape = TableShape::wide;
  std::optional<NewestFirst> newest_first;
  char delimiter = ',';
  char decimal = '.';
  bool decimal_proven = false;      // single groups of thousands may be read
  std::vector<ColumnPlan> columns;  // in force
  std::vector<ColumnPlan> first_columns;  // under the first header
  /// Of a tall table: what its names mean, by the name in `header`.
  std::vector<ColumnPlan> readings;
  std::vector<std::string> reading_names;  // all that the survey has seen
  std::vector<std::string> sets;  // of a table of several sets side by side
  /// Of a tall table: readings this close are one sample, in milliseconds.
  std::int64_t sample_ms = 0;
  StampStyle time;         // of time or date
  StampStyle time_of_day;  // beside a date
  bool split_time = false;
  std::int64_t first_day_ms = 0;  // the day a clock without date starts on
  std::optional<std::int32_t> utc_offset_min;  // of stamps without zone
  std::uint64_t header_line = 0;
  std::string header_text;    // raw, to know it again; empty: none
  char header_start = '\0';   // its first byte
  std::string unit_row_text;  // raw; empty: none
};

}  // namespace telltale::host
