// Which columns a check needs and how often they must be read.
#include "simulate/truth/observable.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <initializer_list>

#include "simulate/truth/step_book.hpp"

namespace telltale::host::sim {
namespace {

constexpr ChannelMask kLoad = bit(Channel::power) | bit(Channel::load);
constexpr ChannelMask kAmps = bit(Channel::current_l1);
constexpr ChannelMask kTurning =
    bit(Channel::engine_speed) | bit(Channel::frequency) |
    bit(Channel::voltage_l1) | bit(Channel::voltage_line);

// Intervals: three readings in the contract's delay, or its own words.
constexpr std::array kNeeds = {
    Need{"frequency-high", bit(Channel::frequency), 0, 10.0},
    Need{"frequency-low", bit(Channel::frequency), 0, 10.0},
    Need{"frequency-drift", bit(Channel::frequency), kLoad | kAmps, 0.0},
    Need{"frequency-hunting", bit(Channel::frequency), 0, 3.0},
    Need{"frequency-droop", bit(Channel::frequency), kLoad, 0.0},
    Need{"speed-frequency-mismatch",
         bit(Channel::engine_speed) | bit(Channel::frequency), 0, 0.0},
    Need{"load-step-response", bit(Channel::frequency), kLoad | kAmps, 0.0},
    Need{"voltage-high", 0, 0, 10.0},
    Need{"voltage-low", 0, 0, 10.0},
    Need{"voltage-unbalance",
         bit(Channel::voltage_l1) | bit(Channel::voltage_l2), 0, 20.0},
    Need{"over-excitation", bit(Channel::frequency),
         bit(Channel::voltage_l1) | bit(Channel::voltage_line), 5.0},
    Need{"overload", 0, kLoad | kAmps, 10.0},
    Need{"light-load", 0, kLoad | kAmps, 0.0},
    Need{"leg-imbalance", bit(Channel::current_l1) | bit(Channel::current_l2),
         0, 120.0},
    Need{"early-load", bit(Channel::coolant_temperature), kLoad | kAmps, 10.0},
    Need{"stop-under-load", 0, kLoad | kAmps, 2.0},
    Need{"short-cool-down", 0, kLoad | kAmps, 20.0},
    Need{"abrupt-stop", 0, kTurning, 5.0},
    Need{"fuel-starvation", 0,
         bit(Channel::engine_speed) | bit(Channel::frequency), 2.0},
    Need{"oil-pressure-low", bit(Channel::oil_pressure), kTurning, 0.0},
    Need{"oil-pressure-fade", bit(Channel::oil_pressure),
         bit(Channel::oil_temperature) | bit(Channel::coolant_temperature),
         60.0},
    Need{"oil-pressure-slow", bit(Channel::oil_pressure), kTurning, 3.0},
    Need{"oil-pressure-unsteady", bit(Channel::oil_pressure), 0, 5.0},
    Need{"coolant-high", bit(Channel::coolant_temperature), 0, 0.0},
    Need{"coolant-climb", bit(Channel::coolant_temperature), kLoad | kAmps,
         60.0},
    Need{"coolant-cold", bit(Channel::coolant_temperature), kLoad | kAmps, 0.0},
    Need{"exhaust-high", bit(Channel::exhaust_temperature), 0, 0.0},
    Need{"exhaust-jump", bit(Channel::exhaust_temperature), 0, 20.0},
    Need{"exhaust-climb", bit(Channel::exhaust_temperature), kLoad | kAmps,
         60.0},
    Need{"winding-high", bit(Channel::winding_temperature), 0, 0.0},
    Need{"charging-low", bit(Channel::battery_voltage), 0, 20.0},
    Need{"charging-high", bit(Channel::battery_voltage), 0, 10.0},
    Need{"charging-fade", bit(Channel::battery_voltage), 0, 60.0},
    Need{"crank-dip", bit(Channel::battery_voltage), kTurning, 1.0},
    Need{"battery-rest-low", bit(Channel::battery_voltage), 0, 10.0},
    Need{"long-crank", bit(Channel::engine_speed), 0, 2.0},
    Need{"repeated-cranking", bit(Channel::engine_speed), 0, 2.0},
    Need{"service-due", bit(Channel::engine_hours), 0, 0.0},
    Need{"hours-mismatch", bit(Channel::engine_hours), kTurning, 0.0},
};

// Checks of a value against a limit: their readings must outlast the delay.
constexpr std::array<std::string_view, 12> kSustained = {
    "frequency-high",   "frequency-low", "voltage-high", "voltage-low",
    "over-excitation",  "overload",      "coolant-high", "exhaust-high",
    "oil-pressure-low", "winding-high",  "charging-low", "charging-high"};

std::string missing_channel(const Need& need, ChannelMask logged) {
  for (const ChannelInfo& info : kChannels) {
    if ((need.all & ~logged & bit(info.channel)) != 0) {
      return fmt::format("no such channel: {}", info.slug);
    }
  }
  if (need.any != 0 && (need.any & logged) == 0) {
    return "no channel that shows it";
  }
  return "";
}

}  // namespace

std::optional<Need> need_of(std::string_view check, int performance_class) {
  for (Need need : kNeeds) {
    if (need.check != check) continue;
    if (check == "load-step-response") {
      need.interval_s = class_limits(performance_class).recovery_s / 5.0;
    }
    return need;
  }
  return std::nullopt;
}

std::string not_observable(const Verdict& verdict, const Scenario& scenario) {
  ChannelMask logged = 0;
  for (const SensorSpec& sensor : scenario.sensors)
    logged |= bit(sensor.channel);
  if (verdict.check.starts_with("alarm-")) {
    return scenario.alarm_column ? "" : "no alarm column";
  }
  if (verdict.channel != Channel::none &&
      (verdict.check.starts_with("sensor-") ||
       verdict.check.starts_with("voltage-")) &&
      (logged & bit(verdict.channel)) == 0) {
    return fmt::format("no such channel: {}", info_of(verdict.channel).slug);
  }
  if (verdict.check == "voltage-unbalance" && scenario.set.rating.legs == 3 &&
      (logged & bit(Channel::voltage_l3)) == 0) {
    return "no such channel: voltage_l3";
  }
  const std::optional<Need> need =
      need_of(verdict.check, scenario.set.rating.performance_class);
  if (!need) return "";
  if (std::string why = missing_channel(*need, logged); !why.empty()) {
    return why;
  }
  // A logger that is slow at rest may sleep through the crank.
  const bool of_start = verdict.check.ends_with("-crank") ||
                        verdict.check.starts_with("crank-") ||
                        verdict.check == "repeated-cranking";
  const double interval_s =
      of_start ? std::max(scenario.interval_s, scenario.rest_interval_s)
               : scenario.interval_s;
  if (need->interval_s > 0.0 && interval_s > need->interval_s) {
    return fmt::format("not observable at an interval of {} s", interval_s);
  }
  const bool sustained = std::find(kSustained.begin(), kSustained.end(),
                                   verdict.check) != kSustained.end();
  const double delay_s = verdict.due - verdict.from;
  if (sustained &&
      verdict.to - verdict.from < delay_s + 2.0 * scenario.interval_s) {
    return "over before it was read for as long as it must last";
  }
  return "";
}

}  // namespace telltale::host::sim
