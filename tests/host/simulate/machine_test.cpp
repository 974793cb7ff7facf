// Every fault of the parts must move the true state as its physics says:
// checked against a sound twin of the same seed, directly on the states.
#include <algorithm>
#include <cmath>
#include <vector>

#include "catch.hpp"
#include "simulate/plan.hpp"
#include "simulate/presets.hpp"
#include "simulate/simulate.hpp"

namespace telltale::host::sim {
namespace {

constexpr double kOnset = 2400.0;
constexpr double kEnd = 6600.0;

class Keeper : public Observer {
 public:
  void see(const Snapshot& now) override { states.push_back(now); }
  std::vector<Snapshot> states;
};

std::vector<Snapshot> states_of(const Scenario& scenario) {
  Simulator simulator(scenario);
  Keeper keeper;
  simulator.watch(&keeper);
  Sample sample;
  while (simulator.next(sample)) {
  }
  return keeper.states;
}

/// Mean of a channel between two times; NaN if never at speed there.
double mean(const std::vector<Snapshot>& states, Channel channel, double from,
            double to) {
  double sum = 0.0;
  double time = 0.0;
  for (const Snapshot& s : states) {
    if (s.t < from || s.t > to || s.phase == TruePhase::stopped) continue;
    sum += value_of(s, channel) * s.dt;
    time += s.dt;
  }
  return sum / time;
}

struct Row {
  FaultKind kind;
  Channel channel;
  double from;  // since onset
  double to;
  double low;  // change against the twin: between these
  double high;
};

// Sizes are the defaults of the fault table.
constexpr Row kRows[] = {
    // 7 % of 60 Hz are 4.2 Hz, 8 % are 4.8 Hz, 2.5 % are 1.5 Hz.
    {FaultKind::frequency_high, Channel::frequency, 60, 600, 4.1, 4.3},
    {FaultKind::frequency_low, Channel::frequency, 60, 600, -5.0, -4.7},
    {FaultKind::frequency_drift, Channel::frequency, 2500, 3000, 1.4, 1.6},
    // 9 % of 120 V are 10.8 V, 14 % are 16.8 V, 6 % are 7.2 V.
    {FaultKind::voltage_high, Channel::voltage_l1, 60, 600, 10.5, 11.1},
    {FaultKind::voltage_low, Channel::voltage_l1, 60, 600, -17.1, -16.5},
    {FaultKind::voltage_unbalance, Channel::voltage_l1, 60, 600, -7.5, -6.9},
    {FaultKind::voltage_unbalance, Channel::voltage_l2, 60, 600, 6.9, 7.5},
    // 65 % of the oil gone leaves less than half the pressure.
    {FaultKind::oil_pressure_low, Channel::oil_pressure, 60, 600, -260, -150},
    // 18 % of about 300 kPa.
    {FaultKind::oil_pressure_fade, Channel::oil_pressure, 1200, 3000, -65, -45},
    {FaultKind::coolant_high, Channel::coolant_temperature, 200, 250, 12, 40},
    {FaultKind::coolant_cold, Channel::coolant_temperature, 600, 3000, -60,
     -30},
    {FaultKind::exhaust_high, Channel::exhaust_temperature, 1200, 3000, 25, 90},
    {FaultKind::exhaust_jump, Channel::exhaust_temperature, 60, 120, 60, 250},
    {FaultKind::charging_low, Channel::battery_voltage, 600, 3000, -1.7, -1.5},
    {FaultKind::charging_high, Channel::battery_voltage, 600, 3000, 1.5, 1.7},
    {FaultKind::charging_fade, Channel::battery_voltage, 2500, 3500, -0.95,
     -0.85},
    // Lost raw water takes the coolant along, later.
    {FaultKind::exhaust_jump, Channel::coolant_temperature, 300, 360, 8, 40},
    // A low pressure is no change of temperature.
    {FaultKind::oil_pressure_fade, Channel::oil_temperature, 1200, 3000, -0.2,
     0.2},
    {FaultKind::charging_low, Channel::frequency, 600, 3000, -0.05, 0.05},
};

Scenario base() {
  Scenario scenario = *preset_scenario("split-8", 1, kEnd);
  // Steady load, so that twins differ by the fault alone, and no protection
  // that would end the run.
  scenario.runs[0].load.appliances.clear();
  scenario.runs[0].load.levels = {{0.0, 62.0}};
  scenario.set.controller.trip_oil_kpa = 0.0;
  scenario.set.controller.trip_coolant_c = 0.0;
  return scenario;
}

TEST_CASE("faults of the parts move the true state as their physics says") {
  for (const Row& row : kRows) {
    INFO(info_of(row.kind).check << " on " << info_of(row.channel).slug);
    Scenario ill = base();
    ill.faults = {{.kind = row.kind, .at_s = kOnset}};
    // The twin keeps the plan that the fault asks for, not the fault.
    Scenario sound = prepared(ill);
    sound.faults.clear();
    const double change =
        mean(states_of(ill), row.channel, kOnset + row.from, kOnset + row.to) -
        mean(states_of(sound), row.channel, kOnset + row.from, kOnset + row.to);
    CHECK(change > row.low);
    CHECK(change < row.high);
  }
}

double crest(const std::vector<Snapshot>& states, double from, double to) {
  double low = 1e9;
  double high = 0.0;
  for (const Snapshot& s : states) {
    if (s.t < from || s.t > to) continue;
    low = std::min(low, s.hertz_low);
    high = std::max(high, s.hertz_high);
  }
  return high - low;
}

TEST_CASE("a hunting governor swings by the width asked for") {
  Scenario ill = base();
  ill.faults = {{.kind = FaultKind::frequency_hunting, .at_s = kOnset}};
  const auto states = states_of(ill);
  CHECK(crest(states, 1500.0, 2300.0) < 0.6);
  // 4 % of 60 Hz; the roughness of the engine comes on top.
  CHECK(crest(states, kOnset + 60.0, kOnset + 120.0) ==
        Approx(2.4).margin(0.4));
}

TEST_CASE("a starved engine sags at constant load, a sound one never") {
  Scenario ill = base();
  ill.faults = {{.kind = FaultKind::fuel_starvation, .at_s = kOnset}};
  const auto states = states_of(ill);
  int sags = 0;
  bool low = false;
  for (const Snapshot& s : states) {
    if (s.t < 1000.0 || s.t > kOnset + 600.0) continue;
    const bool now = value_of(s, Channel::frequency) < 0.95 * 61.4;
    if (now && !low) {
      ++sags;
      CHECK(s.t > kOnset);
    }
    low = now;
  }
  CHECK(sags >= 6);
}

TEST_CASE("the boost stays in after a stop under load, until a clean stop") {
  Scenario scenario = *preset_scenario("async-5", 1, 1500.0);
  const RunPlan first = scenario.runs[0];
  for (int i = 1; i < 3; ++i) {
    RunPlan next = first;
    next.start_s += 2000.0 * i;
    scenario.runs.push_back(next);
  }
  scenario.log_to_s = 6000.0;
  scenario.faults = {{.kind = FaultKind::stop_under_load, .at_s = 500.0}};
  const auto states = states_of(scenario);
  const auto hertz = [&states](int run) {
    double sum = 0.0;
    int count = 0;
    for (const Snapshot& s : states) {
      if (s.run != run || s.phase != TruePhase::no_load) continue;
      sum += value_of(s, Channel::frequency);
      ++count;
    }
    return sum / count;
  };
  CHECK(hertz(0) == Approx(62.7).margin(0.5));
  CHECK(hertz(1) == Approx(64.9).margin(0.5));
  CHECK(hertz(2) == Approx(62.7).margin(0.5));
}

TEST_CASE("meters count what happened") {
  const Scenario scenario = base();
  const auto states = states_of(scenario);
  const Snapshot& first = states.front();
  const Snapshot& last = states.back();
  double turning_s = 0.0;
  double litres = 0.0;
  double highest_crank = 0.0;
  for (const Snapshot& s : states) {
    if (s.phase != TruePhase::stopped && s.phase != TruePhase::cranking) {
      turning_s += s.dt;
    }
    litres += value_of(s, Channel::fuel_rate) * s.dt / 3600.0;
    if (s.state == EngineState::cranking && s.phase == TruePhase::cranking &&
        value_of(s, Channel::engine_speed) < 400.0) {
      highest_crank =
          std::max(highest_crank, value_of(s, Channel::engine_speed));
    }
  }
  CHECK(value_of(last, Channel::start_count) -
            value_of(first, Channel::start_count) ==
        1.0);
  CHECK(value_of(last, Channel::engine_hours) -
            value_of(first, Channel::engine_hours) ==
        Approx(turning_s / 3600.0).margin(0.003));
  CHECK((value_of(first, Channel::fuel_level) -
         value_of(last, Channel::fuel_level)) /
            100.0 * scenario.set.engine.tank_l ==
        Approx(litres).epsilon(0.01));
  // Practice: starters turn small diesels at 150 to 300 rpm.
  CHECK(highest_crank > 150.0);
}

}  // namespace
}  // namespace telltale::host::sim
