// Faults: which there are, what their size means, and one fault at its time.
#pragma once

#include <cstdint>
#include <limits>
#include <optional>
#include <span>
#include <string>
#include <string_view>

#include "support/result.hpp"
#include "telltale/acquire/channel.hpp"

namespace telltale::host::sim {

/// One per check of the contract that a log can show. The order is that of
/// the contract and of the table in fault.cpp.
enum class FaultKind : std::uint8_t {
  frequency_high,
  frequency_low,
  frequency_drift,
  frequency_hunting,
  frequency_droop,
  speed_frequency_mismatch,
  load_step_response,
  voltage_high,
  voltage_low,
  voltage_unbalance,
  over_excitation,
  overload,
  light_load,
  leg_imbalance,
  early_load,
  stop_under_load,
  short_cool_down,
  abrupt_stop,
  fuel_starvation,
  oil_pressure_low,
  oil_pressure_fade,
  oil_pressure_slow,
  oil_pressure_unsteady,
  coolant_high,
  coolant_climb,
  coolant_cold,
  exhaust_high,
  exhaust_jump,
  exhaust_climb,
  winding_high,
  charging_low,
  charging_high,
  charging_fade,
  crank_dip,
  battery_rest_low,
  long_crank,
  repeated_cranking,
  service_due,
  hours_mismatch,
  data_gap,
  clock_step,
  sensor_frozen,
  sensor_range,
  sensor_spike,
  sensor_dropout,
  alarm_chatter,
  alarm_flood,
  alarm_standing,
};

/// How an abrupt stop comes about: the size of that fault.
enum class AbruptCause : std::uint8_t {
  fuel_shut,   // air in the fuel: it sags, then dies
  oil_lost,    // pressure falls, the protection trips
  overheated,  // cooling lost, the protection trips
  seized,      // turns hard, then not at all
  emergency,   // stop button
};

/// What is fixed about a kind of fault.
struct FaultInfo {
  FaultKind kind;
  std::string_view check;    // name of the check that should find it
  std::string_view physics;  // what is done to the set
  std::string_view unit;     // of the size
  double size;               // when none is given
  double ramp_s;             // from onset to full size, when none is given
  Channel channel;           // of a sensor fault, when none is given
};

/// One fault of a scenario.
struct Fault {
  FaultKind kind{};
  double at_s = 0.0;  // onset, seconds from the scenario's start
  double size = std::numeric_limits<double>::quiet_NaN();    // NaN: default
  double ramp_s = std::numeric_limits<double>::quiet_NaN();  // NaN: default
  double until_s = std::numeric_limits<double>::infinity();
  Channel channel = Channel::none;

  /// `size` and `ramp_s`, or the default of the kind.
  [[nodiscard]] double full_size() const;
  [[nodiscard]] double ramp() const;
  [[nodiscard]] Channel target() const;
  /// 0 before onset, 1 at full size, in between on the ramp; 0 from until_s.
  [[nodiscard]] double share(double t_s) const;
};

/// Every kind, in the contract's order.
std::span<const FaultInfo> fault_table();
const FaultInfo& info_of(FaultKind kind);
std::optional<FaultKind> fault_named(std::string_view check);

/// Reads `CHECK[/CHANNEL]@TIME[:SIZE[:RAMP]]`; times are seconds or carry
/// s, m, h or d ("45m", "1.5h"). Errors name the part that is wrong.
Result<Fault> parse_fault(std::string_view text);
/// Seconds of "90", "90s", "45m", "2h", "1d"; nothing if it is no duration.
std::optional<double> parse_duration(std::string_view text);

}  // namespace telltale::host::sim
