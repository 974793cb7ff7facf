// The codes of each channel.
#include "ingest/bus_codes.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <limits>
#include <span>

namespace telltale::host {
namespace {

// A stretch of codes in the canonical unit.
struct CodeRange {
  Channel channel;
  double low;
  double high;
};

// J1939: from 0xFB (8 bit: 251, 16 bit: 0xFB00) to the maximum, times scale
// plus offset of the parameter (SPN in brackets). NMEA 2000: the field's
// maximum and the two codes below it.
using enum Channel;
constexpr std::array kRanges = {
    CodeRange{engine_speed, 8031.875, 8191.875},     // [190] 0.125 rpm
    CodeRange{engine_speed, 16383.25, 16383.75},     // 127488: 0.25 rpm
    CodeRange{oil_pressure, 1004, 1020},             // [100] 4 kPa
    CodeRange{oil_pressure, 6553.3, 6553.5},         // 127489: 100 Pa
    CodeRange{coolant_temperature, 210, 215},        // [110] 1 degC - 40
    CodeRange{coolant_temperature, 382.18, 382.20},  // 127489: 0.01 K
    CodeRange{oil_temperature, 1735, 1775},          // [175] 1/32 degC - 273
    CodeRange{oil_temperature, 6280.13, 6280.35},    // 127489: 0.1 K
    CodeRange{oil_temperature, 382.18, 382.20},      // 127489: 0.01 K
    CodeRange{exhaust_temperature, 1735, 1775},      // [173] 1/32 degC - 273
    CodeRange{exhaust_temperature, 6280.13, 6280.35},
    CodeRange{ambient_temperature, 1735, 1775},  // [171] 1/32 degC - 273
    CodeRange{ambient_temperature, 382.18, 382.20},
    CodeRange{raw_water_temperature, 382.18, 382.20},
    CodeRange{raw_water_temperature, 1735, 1775},
    CodeRange{winding_temperature, 211, 215},  // [1124] 1 degC - 40
    CodeRange{winding_temperature, 1735, 1775},
    CodeRange{battery_voltage, 3212.8, 3276.75},  // [168] 0.05 V
    CodeRange{battery_voltage, 327.65, 327.67},   // 127508: 0.01 V
    CodeRange{frequency, 502, 512},               // [2436] 1/128 Hz
    CodeRange{voltage_l1, 64256, 65535},          // [2444] 1 V
    CodeRange{voltage_l2, 64256, 65535},
    CodeRange{voltage_l3, 64256, 65535},
    CodeRange{voltage_line, 64256, 65535},  // [2440] 1 V
    CodeRange{current_l1, 64256, 65535},    // [2448] 1 A
    CodeRange{current_l1, 3276.5, 3276.7},  // 0.1 A
    CodeRange{current_l2, 64256, 65535},
    CodeRange{current_l3, 64256, 65535},
    CodeRange{power, 2261412, 2294968},             // [2452] 1 W - 2 GW
    CodeRange{power_factor, 2.9, 3.0},              // [2464] 1/16384 - 1
    CodeRange{load, 251, 255},                      // [92] 1 %
    CodeRange{fuel_level, 100.4, 102},              // [96] 0.4 %
    CodeRange{fuel_level, 131.06, 131.07},          // 127505: 0.004 %
    CodeRange{fuel_rate, 3212.8, 3276.75},          // [183] 0.05 L/h
    CodeRange{engine_hours, 210554061, 214748365},  // [247] 0.05 h
    CodeRange{engine_hours, 1193046.4, 1193046.5},  // 127489: 1 s
};

/// The codes of each channel, which stand together.
constexpr std::array kRangesOf = [] {
  std::array<std::span<const CodeRange>, kChannelCount> out{};
  for (std::size_t i = 0; i < kRanges.size();) {
    const Channel of = kRanges[i].channel;
    if (!out[index_of(of)].empty()) throw "a channel's codes are apart";
    std::size_t end = i;
    while (end < kRanges.size() && kRanges[end].channel == of) ++end;
    out[index_of(of)] = std::span(kRanges).subspan(i, end - i);
    i = end;
  }
  return out;
}();

bool is_temperature(Channel channel) {
  return info_of(channel).unit == Unit::degC;
}

// Raw maxima that were logged without scaling. They say nothing where the
// channel can have that value: 255 kPa of oil pressure is a good reading.
bool is_raw_code(Channel channel, double value, double logged) {
  const ChannelInfo& info = info_of(channel);
  if (value >= info.low && value <= info.high) return false;
  constexpr std::array kRaw = {
      255.0,        254.0,        65535.0,      65534.0,      65533.0,
      32767.0,      32766.0,      -32768.0,     4294967295.0, 4294967294.0,
      2147483647.0, 2147483646.0, -2147483648.0};
  return std::find(kRaw.begin(), kRaw.end(), logged) != kRaw.end();
}

bool is_stuck_low(Channel channel, double value) {
  if (!is_temperature(channel)) return false;
  return std::abs(value + 40.0) < 0.05 || std::abs(value + 273.0) < 0.2;
}

// Rounding by the logger: a last digit or so.
double slack(double bound) { return std::abs(bound) * 2e-4; }

bool in_range_of(const CodeRange& range, double value) {
  return value >= range.low - slack(range.low) &&
         value <= range.high + slack(range.high);
}

}  // namespace

bool is_bus_code(Channel channel, double value, double logged) {
  for (const CodeRange& range : kRangesOf[index_of(channel)]) {
    if (in_range_of(range, value)) return true;
  }
  return is_raw_code(channel, value, logged) || is_stuck_low(channel, value);
}

CodeFilter::CodeFilter(Channel channel, bool only_codes, double first_good)
    : channel_(channel), only_codes_(only_codes), last_good_(first_good) {
  const ChannelInfo& info = info_of(channel);
  // What lies inside the channel's range and below its own codes is good
  // unseen.
  suspect_high_ = static_cast<double>(info.high);
  for (const CodeRange& range : kRangesOf[index_of(channel)]) {
    suspect_high_ = std::min(suspect_high_, range.low - slack(range.low));
  }
  suspect_low_ = is_temperature(channel) ? -39.9 : info.low;
}

bool CodeFilter::judge(double value, double logged) const {
  if (!is_bus_code(channel_, value, logged)) return false;
  const ChannelInfo& info = info_of(channel_);
  if (only_codes_ || value < info.low || value > info.high) return true;
  return std::abs(value - last_good_) > info.jump;
}

}  // namespace telltale::host
