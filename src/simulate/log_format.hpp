// How a made-up logger writes its file: everything that is spelling.
#pragma once

#include <cstdint>
#include <string>
#include <vector>

namespace telltale::host::sim {

enum class UnitSystem : std::uint8_t { metric, us };

/// How the time of a row is spelled.
enum class TimeStyle : std::uint8_t {
  iso,          // 2026-06-01 08:00:00
  iso_utc,      // 2026-06-01T08:00:00Z
  iso_offset,   // 2026-06-01T10:00:00.000+02:00
  epoch_s,      // 1780300800
  epoch_ms,     // 1780300800000
  elapsed_s,    // 123 or 123.4, seconds since the first row
  elapsed_hms,  // 0:02:03
  day_first,    // 01.06.2026 08:00:00
  month_first,  // 06/01/2026 08:00:00
  twelve_hour,  // 06/01/2026 08:00:00 AM
  two_columns,  // date and time of day apart, ISO
};

/// How a column is headed.
enum class HeaderStyle : std::uint8_t {
  words,      // Oil Pressure (psi)
  brackets,   // Oil pressure [psi]
  shorthand,  // Oil Press psi
  snake,      // oil_pressure_psi
  bare,       // oil_pressure, no unit anywhere
};

enum class Encoding : std::uint8_t {
  utf8,
  utf8_mark,
  latin1,
  utf16_le,
  utf16_be
};

struct LogFormat {
  char delimiter = ',';
  char decimal = '.';
  std::string line_end = "\n";
  TimeStyle time = TimeStyle::iso;
  int utc_offset_min = 0;  // zone of the logger's clock
  HeaderStyle header = HeaderStyle::words;
  Encoding encoding = Encoding::utf8;
  bool unit_row = false;              // a row of units under the header
  bool quoted_header = false;         // "Oil Pressure (psi)"
  bool units_in_cells = false;        // 41 psi
  std::vector<std::string> preamble;  // lines above the header
  std::string missing;      // spelling of a missing reading; "bus": full scale
  std::string unit_column;  // not empty: a column with this unit name
  int repeat_header_rows = 0;  // header again after so many rows; 0: never
  bool cut_last_line = false;
};

}  // namespace telltale::host::sim
