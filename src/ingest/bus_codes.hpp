// Codes of vehicle and marine networks for "not available" and "error", as
// they look after a logger scaled them.
#pragma once

#include "support/units.hpp"
#include "telltale/acquire/channel.hpp"

namespace telltale::host {

/// Whether `value` (in the channel's canonical unit) or `logged` (as the log
/// has it) is one of the channel's own codes. Sources: SAE J1939-71 raw ranges
/// 0xFB.. and up with the scale of the parameter that carries the channel;
/// NMEA 2000 field maxima; raw 8, 16 and 32 bit maxima; -40 and -273 of an
/// open sender. Being a code does not yet make a reading missing: see
/// CodeFilter.
bool is_bus_code(Channel channel, double value, double logged);

/// Decides reading by reading (contract section 3): a code is "not available"
/// only where the channel can't have that value at all, or can't have come
/// there from its last good reading, or never has another value.
class CodeFilter {
 public:
  CodeFilter() = default;
  /// `only_codes`: the whole column is one code. `first_good`: what to compare
  /// with before there is a good reading (NaN: nothing).
  CodeFilter(Channel channel, bool only_codes, double first_good);

  /// True where the reading is to count as missing.
  bool refuses(double value, double logged) {
    if (value < suspect_low_ || value > suspect_high_) {
      if (judge(value, logged)) return true;
    }
    last_good_ = value;
    return false;
  }

 private:
  bool judge(double value, double logged) const;

  Channel channel_ = Channel::none;
  bool only_codes_ = false;
  double last_good_ = 0;
  // No code lies between these: the quick way out for nearly all readings.
  double suspect_low_ = 0;
  double suspect_high_ = 0;
};

}  // namespace telltale::host
