// One small change of the plan for each fault of use.
#include "simulate/plan.hpp"

#include <algorithm>
#include <cmath>

namespace telltale::host::sim {
namespace {

constexpr double kStartupS = 9.0;       // cranking, run-up and settling, about
constexpr double kDryExhaustK = 260.0;  // default size of exhaust-high there
constexpr double kStopLeadS = 20.0;  // onset of a fault of the stop, before it

/// Everything goes off at `t`, then the given levels hold. Window time.
void take_over(LoadPlan& load, double t, const std::vector<LoadLevel>& levels) {
  t = std::max(t, 0.0);
  for (Appliance& what : load.appliances) {
    what.until_s = std::min(what.until_s, t);
  }
  std::erase_if(load.levels,
                [t](const LoadLevel& level) { return level.at_s >= t; });
  for (const LoadLevel& level : levels) load.levels.push_back(level);
}

double window_start(const RunPlan& run, const SetSpec& set) {
  const double preheat =
      run.preheat_s < 0.0 ? set.controller.preheat_s : run.preheat_s;
  return run.start_s + preheat + run.crank_s + kStartupS + run.warm_up_s +
         run.failed_cranks * (run.failed_crank_s + run.crank_rest_s);
}

void overload(const Fault& fault, double onset, LoadPlan& load) {
  std::vector<LoadLevel> levels;
  constexpr int kSteps = 4;
  for (int i = 1; i <= kSteps; ++i) {
    const double share = static_cast<double>(i) / kSteps;
    levels.push_back({onset + fault.ramp() * (share - 1.0 / kSteps),
                      60.0 + (fault.full_size() - 60.0) * share});
  }
  take_over(load, onset, levels);
}

void leg_imbalance(const Fault& fault, double onset, const Rating& rating,
                   LoadPlan& load) {
  if (rating.legs < 2) return;
  const double legs = rating.legs;
  const double more = fault.full_size() * (legs - 1.0) / legs;
  const double less = fault.full_size() / legs;
  const double mean = std::max(48.0, less + 2.0);
  LoadLevel level{onset, mean, {mean + more, mean - less, mean - less}};
  take_over(load, onset, {level});
}

/// Hardly anything but a steady load, from well before `onset`.
void steady_load(double onset, double pct, LoadPlan& load) {
  constexpr double kBeforeS = 1500.0;
  const double from = std::max(onset - kBeforeS, 300.0);
  take_over(load, from, {{from, pct}});
}

void wide_load(double onset, double run_s, LoadPlan& load) {
  constexpr double kSteps[] = {12.0, 40.0, 72.0, 90.0, 55.0, 25.0};
  std::vector<LoadLevel> levels;
  onset += 45.0;
  double at = onset;
  for (std::size_t i = 0; at < onset + run_s; ++i, at += 240.0) {
    levels.push_back({at, kSteps[i % std::size(kSteps)]});
  }
  take_over(load, onset, levels);
}

void test_steps(double onset, const Rating& rating, LoadPlan& load) {
  take_over(load, onset, {{onset, 15.0}});
  Appliance bank;
  bank.name = "test bank";
  bank.kw = 0.30 * rating.power_kw;
  bank.power_factor = 1.0;
  bank.first_s = onset + 60.0;
  bank.on_s = 90.0;
  bank.off_s = 120.0;
  load.appliances.push_back(bank);
}

void repeated_cranking(const Fault& fault, RunPlan& run) {
  const double cranks = fault.full_size();
  run.never_starts = cranks < 0.0;
  run.failed_cranks =
      static_cast<int>(std::lround(std::abs(cranks))) - (cranks > 0.0 ? 1 : 0);
}

void service_due(const Fault& fault, SetSpec& set) {
  if (set.service.empty()) set.service.push_back({"oil", 200.0, 12, 0.0, ""});
  ServiceItem& item = set.service.front();
  set.hours = std::max(set.hours, item.every_h + fault.full_size());
  item.done_h = set.hours - item.every_h - fault.full_size();
}

/// Faults that act from a start on, or on one run as a whole.
bool belongs_to_start(FaultKind kind) {
  using enum FaultKind;
  return kind == over_excitation || kind == light_load || kind == early_load ||
         kind == oil_pressure_slow || kind == long_crank ||
         kind == repeated_cranking || kind == crank_dip ||
         kind == battery_rest_low || kind == hours_mismatch;
}

void apply(Fault& fault, Scenario& scenario) {
  if (fault.kind == FaultKind::exhaust_high && std::isnan(fault.size) &&
      scenario.set.rating.exhaust == Exhaust::dry) {
    fault.size = kDryExhaustK;
  }
  const std::size_t index = run_at(scenario, fault.at_s);
  RunPlan& run = scenario.runs[index];
  if (belongs_to_start(fault.kind)) {
    // A weak battery is weak already while the set rests.
    const bool battery = fault.kind == FaultKind::crank_dip ||
                         fault.kind == FaultKind::battery_rest_low;
    const double onset = battery ? run.start_s - 900.0 : run.start_s;
    fault.at_s = std::max(std::min(fault.at_s, onset), 0.0);
    if (!battery) {
      fault.at_s = run.start_s;
      fault.until_s = std::min(fault.until_s, run.end_s() + 60.0);
    }
  }
  const double onset =
      std::max(fault.at_s - window_start(run, scenario.set), 0.0);
  using enum FaultKind;
  switch (fault.kind) {
    case overload:
      sim::overload(fault, onset, run.load);
      break;
    case light_load:
      take_over(run.load, 0.0, {{0.0, fault.full_size()}});
      break;
    case leg_imbalance:
      sim::leg_imbalance(fault, onset, scenario.set.rating, run.load);
      break;
    case early_load:
      run.warm_up_s = 12.0;
      take_over(run.load, 0.0, {{0.0, fault.full_size()}, {900.0, 45.0}});
      break;
    case frequency_droop:
      wide_load(onset, run.loaded_s, run.load);
      break;
    case coolant_climb:
    case exhaust_climb:
      steady_load(onset, 64.0, run.load);
      break;
    case winding_high:
      steady_load(onset, 90.0, run.load);
      break;
    case exhaust_high:
      steady_load(onset, 78.0, run.load);
      break;
    case load_step_response:
      test_steps(onset, scenario.set.rating, run.load);
      break;
    case stop_under_load:
      fault.at_s = window_start(run, scenario.set) + run.loaded_s - kStopLeadS;
      run.stop_load_pct = fault.full_size();
      take_over(run.load, run.loaded_s - 120.0,
                {{run.loaded_s - 120.0, fault.full_size()}});
      break;
    case short_cool_down:
      fault.at_s = window_start(run, scenario.set) + run.loaded_s - kStopLeadS;
      run.cool_down_s = fault.full_size();
      take_over(run.load, run.loaded_s - 900.0, {{run.loaded_s - 900.0, 68.0}});
      break;
    case long_crank:
      run.crank_s = fault.full_size();
      break;
    case repeated_cranking:
      sim::repeated_cranking(fault, run);
      break;
    case service_due:
      sim::service_due(fault, scenario.set);
      break;
    default:
      break;
  }
}

}  // namespace

std::string cannot_have(FaultKind kind, const SetSpec& set) {
  using enum FaultKind;
  if ((kind == voltage_unbalance || kind == leg_imbalance) &&
      set.rating.legs < 2) {
    return "it has a single leg";
  }
  if ((kind == exhaust_jump || kind == exhaust_climb) &&
      set.rating.exhaust == Exhaust::dry) {
    return "its exhaust is dry";
  }
  return "";
}

double RunPlan::end_s() const {
  const double cranking =
      crank_s + failed_cranks * (failed_crank_s + crank_rest_s);
  const double tail =
      never_starts ? 0.0
                   : kStartupS + warm_up_s + loaded_s + cool_down_s + 10.0;
  return start_s + std::max(preheat_s, 0.0) + cranking + tail;
}

std::size_t run_at(const Scenario& scenario, double t_s) {
  for (std::size_t i = 0; i < scenario.runs.size(); ++i) {
    if (t_s <= scenario.runs[i].end_s()) return i;
  }
  return scenario.runs.size() - 1;
}

Scenario prepared(Scenario scenario) {
  if (scenario.runs.empty()) return scenario;
  for (Fault& fault : scenario.faults) apply(fault, scenario);
  return scenario;
}

}  // namespace telltale::host::sim
