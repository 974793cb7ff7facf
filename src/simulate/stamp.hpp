// Spelling of points in time, in logs and in truth files.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>

#include "simulate/log_format.hpp"
#include "telltale/base/time.hpp"

namespace telltale::host::sim {

/// Spells stamps in one style; remembers the day, so that rows are cheap.
class StampWriter {
 public:
  /// `first` is the stamp that elapsed time counts from. `decimals` of the
  /// seconds: 0 to 3. `column_separator` parts date and time of day in two
  /// columns, `decimal` is the mark in times that are plain numbers.
  StampWriter(TimeStyle style, int utc_offset_min, TimeMs first, int decimals,
              char column_separator, char decimal = '.');

  /// Appends `stamp` (UTC) to `out`.
  void append(std::string& out, TimeMs stamp);

 private:
  void day_text(std::int64_t day);
  void append_seconds(std::string& out, std::int64_t ms, int width,
                      char mark = '.') const;
  void append_clock(std::string& out, std::int64_t ms_of_day) const;

  TimeStyle style_;
  int offset_min_;
  std::int64_t first_ms_;
  int decimals_;
  char separator_;
  char decimal_;
  std::int64_t day_ = INT64_MIN;
  std::string day_text_;
};

/// As reports write it: ISO 8601 with Z where the zone is known, without zone
/// where not, "t+12.5" for elapsed time.
std::string report_time(const LogFormat& format, TimeMs stamp, TimeMs first);

/// Reads `YYYY-MM-DD hh:mm:ss` in UTC; `T` for the blank and a `Z` behind are
/// fine. Nothing where it is no such time.
std::optional<TimeMs> parse_stamp(std::string_view text);

/// Whether the log says which zone its clock is in.
bool zone_known(const LogFormat& format);
bool is_elapsed(TimeStyle style);

}  // namespace telltale::host::sim
