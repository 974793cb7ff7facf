// Puts set, weather, run, fault and log together.
#include "simulate/random_scenario.hpp"

#include <algorithm>
#include <cmath>
#include <string>
#include <vector>

#include "simulate/everyday.hpp"
#include "simulate/plan.hpp"
#include "simulate/presets.hpp"
#include "simulate/sensors.hpp"
#include "simulate/truth/observable.hpp"

namespace telltale::host::sim {
namespace {

std::string any_preset(std::optional<FaultKind> fault, Random& random) {
  std::vector<std::string_view> able;
  for (const PresetInfo& preset : presets()) {
    const auto scenario = preset_scenario(preset.name);
    const bool runs_away =
        // There, more speed is more volts: it would be over-excitation.
        scenario->set.rating.asynchronous &&
        (fault == FaultKind::frequency_high ||
         fault == FaultKind::load_step_response);
    if (fault && (runs_away || !cannot_have(*fault, scenario->set).empty())) {
      continue;
    }
    able.push_back(preset.name);
  }
  return std::string(
      able[random.below(static_cast<std::uint32_t>(able.size()))]);
}

Environment weather(Random& random) {
  Environment out;
  out.sea_c = random.between(3.0, 30.0);
  out.air_c = std::clamp(out.sea_c + random.between(-6.0, 12.0), 4.0, 37.0);
  out.room_rise_k = random.between(6.0, 14.0);
  if (random.chance(0.2)) out.engine_c = random.between(35.0, 70.0);
  return out;
}

double log_interval(std::optional<FaultKind> fault, const SetSpec& set,
                    Random& random) {
  constexpr double kIntervals[] = {1.0, 1.0, 1.0,  1.0,  1.0, 1.0, 2.0,  2.0,
                                   5.0, 5.0, 10.0, 10.0, 0.5, 0.2, 30.0, 60.0};
  double most = 60.0;
  if (fault) {
    const auto need =
        need_of(info_of(*fault).check, set.rating.performance_class);
    if (need && need->interval_s > 0.0) most = need->interval_s;
    if (*fault == FaultKind::alarm_standing) return 60.0;
    if (*fault == FaultKind::oil_pressure_low) most = 2.0;
    // The protection trips soon after the limit.
    if (*fault == FaultKind::coolant_high) most = 10.0;
    if (*fault == FaultKind::data_gap) most = 10.0;
    if (*fault == FaultKind::sensor_spike) most = 5.0;
    if (*fault == FaultKind::sensor_dropout) most = 10.0;
    if (info_of(*fault).check.starts_with("alarm-")) most = 1.0;
  }
  for (int i = 0; i < 40; ++i) {
    const double interval = kIntervals[random.below(16)];
    if (interval <= most) return interval;
  }
  return most >= 1.0 ? 1.0 : 0.2;
}

bool is_slow(FaultKind kind) {
  using enum FaultKind;
  switch (kind) {
    case frequency_drift:
    case coolant_climb:
    case exhaust_climb:
    case oil_pressure_fade:
    case charging_fade:
    case winding_high:
    case exhaust_high:
    case hours_mismatch:
      return true;
    default:
      return false;
  }
}

/// Whether the fault shows only while the engine is cranked.
bool is_of_start(std::optional<FaultKind> fault) {
  return fault == FaultKind::crank_dip || fault == FaultKind::long_crank ||
         fault == FaultKind::repeated_cranking;
}

double log_length(std::optional<FaultKind> fault, Random& random) {
  if (fault == FaultKind::alarm_standing) return 31.0 * 3600.0;
  if (fault == FaultKind::light_load) return random.between(5400.0, 15000.0);
  if (fault && is_slow(*fault)) return random.between(7800.0, 13000.0);
  return random.between(4200.0, 10800.0);
}

Fault make_fault(FaultKind kind, const Scenario& scenario, Random& random) {
  const RunPlan& run = scenario.runs.front();
  Fault fault;
  fault.kind = kind;
  fault.size = clear_size(kind, scenario.set, random);
  const double loaded = run.start_s + run.warm_up_s + 60.0;
  // Warm, with time to see what it was like before and what it leads to.
  const double earliest = loaded + std::min(1500.0, 0.35 * run.loaded_s);
  const double latest = loaded + (is_slow(kind) ? 0.4 : 0.6) * run.loaded_s;
  fault.at_s = random.between(earliest, std::max(latest, earliest + 1.0));
  if (kind == FaultKind::oil_pressure_fade && random.chance(0.3)) {
    fault.ramp_s = 20.0;
  }
  // Oil that leaks away: the protection trips well after the limit.
  if (kind == FaultKind::oil_pressure_low) {
    fault.ramp_s = random.between(60.0, 240.0);
  }
  if (info_of(kind).channel != Channel::none) {
    std::vector<Channel> able;
    for (const SensorSpec& spec : scenario.sensors) {
      const Unit unit = info_of(spec.channel).unit;
      // Of a counter or a level nothing could be told.
      if (unit == Unit::h || unit == Unit::one || unit == Unit::pct ||
          unit == Unit::L_h || spec.channel == Channel::raw_water_temperature ||
          spec.channel == Channel::ambient_temperature) {
        continue;
      }
      // What is frozen must have been due to move: with the load, while the
      // engine warms, or by noise.
      const bool warming =
          unit == Unit::degC && scenario.environment.engine_c < -90.0;
      const bool moves = unit == Unit::kW || unit == Unit::A || warming;
      if (kind == FaultKind::sensor_frozen && !moves && !never_rests(spec)) {
        continue;
      }
      able.push_back(spec.channel);
    }
    fault.channel = able[random.below(static_cast<std::uint32_t>(able.size()))];
  }
  if (kind == FaultKind::sensor_frozen &&
      info_of(fault.channel).unit == Unit::degC) {
    fault.at_s = run.start_s + random.between(60.0, 400.0);
  }
  if (kind == FaultKind::alarm_standing) fault.at_s = run.start_s + 600.0;
  return fault;
}

/// A log that begins or ends while the set runs.
void cut_log(Scenario& scenario, Random& random) {
  const RunPlan& run = scenario.runs.front();
  const double loaded = run.start_s + run.warm_up_s + 60.0;
  if (random.chance(0.12)) {
    scenario.log_from_s =
        std::floor(loaded + random.between(0.3, 0.6) * run.loaded_s);
  } else if (random.chance(0.12)) {
    scenario.log_to_s =
        std::floor(loaded + random.between(0.5, 0.9) * run.loaded_s);
  }
}

}  // namespace

Scenario random_scenario(std::uint64_t seed, std::string_view preset,
                         std::optional<FaultKind> fault) {
  Random random(seed, "scenario");
  const std::string name =
      preset.empty() ? any_preset(fault, random) : std::string(preset);
  Scenario scenario = *preset_scenario(name, seed);
  vary_set(scenario.set, random);
  scenario.environment = weather(random);
  // What needs a cold engine, or a cold sea, gets it.
  if (fault == FaultKind::early_load) {
    scenario.environment.engine_c = random.between(4.0, 16.0);
  }
  if (fault == FaultKind::coolant_cold) {
    scenario.environment.sea_c = std::min(scenario.environment.sea_c, 16.0);
  }
  scenario.interval_s = log_interval(fault, scenario.set, random);

  const double length = log_length(fault, random);
  const bool standing = fault == FaultKind::alarm_standing;
  const double before = random.between(100.0, 400.0);
  const double run_length = standing ? 5400.0 : length - before - 90.0;
  scenario.runs = {everyday_run(scenario.set, scenario.environment, before,
                                run_length, seed)};
  scenario.log_to_s = std::floor(length);
  if (!fault && random.chance(0.15)) {  // a second run of the day
    scenario.runs.push_back(
        everyday_run(scenario.set, scenario.environment, length + 1800.0,
                     random.between(2000.0, 4000.0), seed + 1));
    scenario.log_to_s = std::floor(scenario.runs.back().end_s() + 60.0);
    if (random.chance(0.5)) scenario.log_margin_s = 120.0;
  }
  const bool slow_at_rest = random.chance(0.1);
  if (slow_at_rest && !is_of_start(fault)) {
    scenario.rest_interval_s = std::max(10.0, scenario.interval_s);
  }
  ChannelMask keep = 0;
  if (fault) {
    const auto need =
        need_of(info_of(*fault).check, scenario.set.rating.performance_class);
    if (need) keep = need->all | need->any;
  }
  vary_sensors(scenario, keep, random);
  vary_format(scenario, random);
  scenario.clock.ms +=
      1000 * static_cast<std::int64_t>(random.below(180U * 86400U));
  if (!fault) {
    cut_log(scenario, random);
    return scenario;
  }
  if (info_of(*fault).check.starts_with("alarm-")) {
    scenario.alarm_column = true;
  }
  // An electrical check of a leg needs its column.
  scenario.faults.push_back(make_fault(*fault, scenario, random));
  return scenario;
}

}  // namespace telltale::host::sim
