// The table of faults, and reading one from the command line.
#include "simulate/fault.hpp"

#include <array>
#include <charconv>
#include <cmath>
#include <cstddef>

namespace telltale::host::sim {
namespace {

using enum FaultKind;
constexpr Channel kNone = Channel::none;

constexpr std::array kFaults = {
    FaultInfo{frequency_high, "frequency-high", "governor set too fast",
              "% of nominal speed", 7.0, 20.0, kNone},
    FaultInfo{frequency_low, "frequency-low", "governor set too slow",
              "% of nominal speed", 8.0, 20.0, kNone},
    FaultInfo{frequency_drift, "frequency-drift",
              "governor setting creeps up (or down: negative)",
              "% of nominal speed", 2.5, 2400.0, kNone},
    FaultInfo{frequency_hunting, "frequency-hunting",
              "governor linkage with play: speed swings",
              "% of nominal speed, full width", 4.0, 5.0, kNone},
    FaultInfo{frequency_droop, "frequency-droop", "governor droop too large",
              "% from no load to rated load", 10.0, 0.0, kNone},
    FaultInfo{speed_frequency_mismatch, "speed-frequency-mismatch",
              "wrong pulses per revolution: the rpm reading is off",
              "% of speed", 3.0, 0.0, kNone},
    FaultInfo{load_step_response, "load-step-response", "sluggish governor",
              "times slower than sound", 9.0, 0.0, kNone},
    FaultInfo{voltage_high, "voltage-high",
              "voltage regulator set or drifted high", "% of nominal volts",
              9.0, 10.0, kNone},
    FaultInfo{voltage_low, "voltage-low",
              "voltage regulator set or drifted low", "% of nominal volts",
              14.0, 10.0, kNone},
    FaultInfo{voltage_unbalance, "voltage-unbalance",
              "poor neutral or winding: one leg up, another down",
              "% of the mean of the legs", 6.0, 10.0, kNone},
    FaultInfo{over_excitation, "over-excitation",
              "boost stage held in at the start (sets without one: throttle "
              "and excitation both up)",
              "% of nominal volts", 8.5, 0.0, kNone},
    FaultInfo{overload, "overload", "more load than the rating",
              "% of rated power", 115.0, 30.0, kNone},
    FaultInfo{light_load, "light-load", "the run has hardly any load",
              "% of rated power", 15.0, 0.0, kNone},
    FaultInfo{leg_imbalance, "leg-imbalance", "load moved to one leg",
              "% of rated leg current", 55.0, 0.0, kNone},
    FaultInfo{early_load, "early-load", "load put on a cold engine",
              "% of rated power", 75.0, 0.0, kNone},
    FaultInfo{stop_under_load, "stop-under-load",
              "stop command with the load still on", "% of rated power", 45.0,
              0.0, kNone},
    FaultInfo{short_cool_down, "short-cool-down",
              "stopped soon after heavy load", "s of cool-down", 20.0, 0.0,
              kNone},
    FaultInfo{abrupt_stop, "abrupt-stop",
              "the engine dies: 0 air in the fuel, 1 oil lost and tripped, 2 "
              "overheated and tripped, 3 seized, 4 emergency stop",
              "cause, 0 to 4", 1.0, 0.0, kNone},
    FaultInfo{fuel_starvation, "fuel-starvation",
              "air or a clogged filter: speed sags again and again",
              "% of speed a sag", 9.0, 120.0, kNone},
    FaultInfo{oil_pressure_low, "oil-pressure-low",
              "oil level or pump: less flow", "% of pump flow lost", 65.0, 10.0,
              kNone},
    FaultInfo{oil_pressure_fade, "oil-pressure-fade",
              "bearing wear or fuel in the oil: less pressure at the same "
              "temperature",
              "% of hot pressure lost", 18.0, 900.0, kNone},
    FaultInfo{oil_pressure_slow, "oil-pressure-slow",
              "oil drained back: pressure comes late",
              "s from first turn to pressure", 17.0, 0.0, kNone},
    FaultInfo{oil_pressure_unsteady, "oil-pressure-unsteady",
              "pick-up draws air: pressure flutters", "% of pressure, sd", 9.0,
              60.0, kNone},
    FaultInfo{coolant_high, "coolant-high", "circulation lost",
              "% of cooling lost", 95.0, 5.0, kNone},
    FaultInfo{coolant_climb, "coolant-climb",
              "exchanger silts up or impeller wears", "% of cooling lost", 80.0,
              2400.0, kNone},
    FaultInfo{coolant_cold, "coolant-cold", "thermostat stuck open",
              "% open at least", 100.0, 0.0, kNone},
    FaultInfo{exhaust_high, "exhaust-high",
              "too little injection water (wet) or injection timing (dry)",
              "K at rated load", 65.0, 600.0, kNone},
    FaultInfo{exhaust_jump, "exhaust-jump", "raw water lost",
              "% of raw-water flow lost", 97.0, 2.0, kNone},
    FaultInfo{exhaust_climb, "exhaust-climb",
              "injection elbow fouls: less and less water", "K at rated load",
              40.0, 2400.0, kNone},
    FaultInfo{winding_high, "winding-high", "alternator ventilation blocked",
              "% of air flow lost", 62.0, 300.0, kNone},
    FaultInfo{charging_low, "charging-low", "charger gives too little",
              "V per 12 V", 12.6, 0.0, kNone},
    FaultInfo{charging_high, "charging-high", "charge regulator stuck high",
              "V per 12 V", 15.8, 30.0, kNone},
    FaultInfo{charging_fade, "charging-fade", "belt or brushes give out slowly",
              "V per 12 V lost", 0.9, 2400.0, kNone},
    FaultInfo{crank_dip, "crank-dip", "tired battery or bad cable",
              "times the sound resistance", 2.4, 0.0, kNone},
    FaultInfo{battery_rest_low, "battery-rest-low", "battery hardly charged",
              "V per 12 V at rest", 11.95, 0.0, kNone},
    FaultInfo{long_crank, "long-crank", "fires late", "s of cranking", 18.0,
              0.0, kNone},
    FaultInfo{repeated_cranking, "repeated-cranking",
              "fails to fire at first (negative: never starts)",
              "cranks, the good one counted", 4.0, 0.0, kNone},
    FaultInfo{service_due, "service-due",
              "hours past the service (before it: negative)", "h past due",
              12.0, 0.0, kNone},
    FaultInfo{hours_mismatch, "hours-mismatch",
              "hour meter runs fast (slow: negative)", "% of running time",
              25.0, 0.0, kNone},
    FaultInfo{data_gap, "data-gap", "logger silent while running", "s", 120.0,
              0.0, kNone},
    FaultInfo{clock_step, "clock-step",
              "logger's clock set forward (back: negative)", "s", 3600.0, 0.0,
              kNone},
    FaultInfo{sensor_frozen, "sensor-frozen", "reading stays bit-identical",
              "none", 1.0, 0.0, Channel::oil_pressure},
    FaultInfo{sensor_range, "sensor-range",
              "open or shorted sender: an impossible reading", "none", 1.0, 0.0,
              Channel::coolant_temperature},
    FaultInfo{sensor_spike, "sensor-spike", "single wild readings",
              "% of readings", 0.4, 0.0, Channel::oil_pressure},
    FaultInfo{sensor_dropout, "sensor-dropout", "readings missing",
              "% of readings", 25.0, 0.0, Channel::coolant_temperature},
    FaultInfo{alarm_chatter, "alarm-chatter",
              "an alarm without deadband at its limit", "raises a minute", 6.0,
              0.0, kNone},
    FaultInfo{alarm_flood, "alarm-flood",
              "supply to the controller fails: alarms pour in",
              "raises in 10 min", 18.0, 0.0, kNone},
    FaultInfo{alarm_standing, "alarm-standing", "an alarm nobody clears", "h",
              26.0, 0.0, kNone},
};

constexpr bool table_is_in_order() {
  for (std::size_t i = 0; i < kFaults.size(); ++i) {
    if (static_cast<std::size_t>(kFaults[i].kind) != i) return false;
  }
  return kFaults.back().kind == alarm_standing;
}
static_assert(table_is_in_order());

std::optional<double> parse_number(std::string_view text) {
  double value = 0.0;
  const char* const end = text.data() + text.size();
  const auto [stop, error] = std::from_chars(text.data(), end, value);
  if (error != std::errc{} || stop != end || !std::isfinite(value)) {
    return std::nullopt;
  }
  return value;
}

Error bad_fault(std::string_view text, std::string what) {
  return Error{"fault '" + std::string(text) + "': " + std::move(what), "",
               "write CHECK[/CHANNEL]@TIME[:SIZE[:RAMP]], see --list"};
}

// Cuts `text` at the first `mark`; the rest is empty when there is none.
std::string_view cut(std::string_view& text, char mark) {
  const std::size_t at = text.find(mark);
  const std::string_view head = text.substr(0, at);
  text =
      at == std::string_view::npos ? std::string_view{} : text.substr(at + 1);
  return head;
}

}  // namespace

double Fault::full_size() const {
  return std::isnan(size) ? info_of(kind).size : size;
}

double Fault::ramp() const {
  return std::isnan(ramp_s) ? info_of(kind).ramp_s : ramp_s;
}

Channel Fault::target() const {
  return channel == Channel::none ? info_of(kind).channel : channel;
}

double Fault::share(double t_s) const {
  if (t_s < at_s || t_s >= until_s) return 0.0;
  const double length = ramp();
  return length <= 0.0 || t_s >= at_s + length ? 1.0 : (t_s - at_s) / length;
}

std::span<const FaultInfo> fault_table() { return kFaults; }

const FaultInfo& info_of(FaultKind kind) {
  return kFaults[static_cast<std::size_t>(kind)];
}

std::optional<FaultKind> fault_named(std::string_view check) {
  for (const FaultInfo& info : kFaults) {
    if (info.check == check) return info.kind;
  }
  return std::nullopt;
}

std::optional<double> parse_duration(std::string_view text) {
  double scale = 1.0;
  if (!text.empty()) {
    switch (text.back()) {
      case 'd':
        scale = 86400.0;
        break;
      case 'h':
        scale = 3600.0;
        break;
      case 'm':
        scale = 60.0;
        break;
      case 's':
        break;
      default:
        scale = 0.0;
    }
    if (scale > 0.0) {
      text.remove_suffix(1);
    } else {
      scale = 1.0;
    }
  }
  const std::optional<double> value = parse_number(text);
  if (!value) return std::nullopt;
  return *value * scale;
}

Result<Fault> parse_fault(std::string_view text) {
  std::string_view rest = text;
  std::string_view head = cut(rest, '@');
  const std::string_view check = cut(head, '/');
  Fault fault;
  const std::optional<FaultKind> kind = fault_named(check);
  if (!kind) {
    return bad_fault(text, "no check is called '" + std::string(check) + "'");
  }
  fault.kind = *kind;
  if (!head.empty()) {
    fault.channel = channel_of(head);
    if (fault.channel == Channel::none) {
      return bad_fault(text,
                       "no channel is called '" + std::string(head) + "'");
    }
  }
  const std::optional<double> at = parse_duration(cut(rest, ':'));
  if (!at || *at < 0.0) return bad_fault(text, "the time is not a duration");
  fault.at_s = *at;
  if (rest.empty()) return fault;
  const std::optional<double> size = parse_number(cut(rest, ':'));
  if (!size) return bad_fault(text, "the size is not a number");
  fault.size = *size;
  if (rest.empty()) return fault;
  const std::optional<double> ramp = parse_duration(rest);
  if (!ramp || *ramp < 0.0) {
    return bad_fault(text, "the ramp is not a duration");
  }
  fault.ramp_s = *ramp;
  return fault;
}

}  // namespace telltale::host::sim
