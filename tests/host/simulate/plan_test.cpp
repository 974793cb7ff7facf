#include "simulate/plan.hpp"

#include <cmath>

#include "catch.hpp"
#include "simulate/everyday.hpp"
#include "simulate/presets.hpp"

namespace telltale::host::sim {
namespace {

Scenario with(FaultKind kind, double at_s, double size = NAN) {
  Scenario scenario = *preset_scenario("split-8", 1, 6000.0);
  scenario.faults = {{.kind = kind, .at_s = at_s, .size = size}};
  return prepared(scenario);
}

TEST_CASE("faults of use reshape the run") {
  CHECK(with(FaultKind::long_crank, 0.0, 17.0).runs[0].crank_s == 17.0);
  CHECK(with(FaultKind::repeated_cranking, 0.0, 4.0).runs[0].failed_cranks ==
        3);
  const RunPlan dead = with(FaultKind::repeated_cranking, 0.0, -4.0).runs[0];
  CHECK(dead.failed_cranks == 4);
  CHECK(dead.never_starts);
  CHECK(with(FaultKind::short_cool_down, 0.0, 25.0).runs[0].cool_down_s ==
        25.0);
  CHECK(with(FaultKind::stop_under_load, 0.0, 40.0).runs[0].stop_load_pct ==
        40.0);
  CHECK(with(FaultKind::early_load, 0.0).runs[0].warm_up_s < 30.0);
}

TEST_CASE("faults of the parts leave the plan alone") {
  const Scenario plain = *preset_scenario("split-8", 1, 6000.0);
  const Scenario ill = with(FaultKind::charging_low, 1000.0);
  CHECK(ill.runs[0].load.levels.size() == plain.runs[0].load.levels.size());
  CHECK(ill.runs[0].loaded_s == plain.runs[0].loaded_s);
  CHECK(ill.faults[0].at_s == 1000.0);
}

TEST_CASE("an onset in a run moves to its start where it belongs there") {
  const Scenario held = with(FaultKind::over_excitation, 3000.0);
  CHECK(held.faults[0].at_s == held.runs[0].start_s);
  CHECK(held.faults[0].until_s > held.runs[0].end_s());
  const Scenario weak = with(FaultKind::battery_rest_low, 3000.0);
  CHECK(weak.faults[0].at_s < weak.runs[0].start_s);
}

TEST_CASE("service past due follows from the hours on the meter") {
  const Scenario due = with(FaultKind::service_due, 0.0, 12.0);
  const ServiceItem& item = due.set.service.front();
  CHECK(due.set.hours - item.done_h == Approx(item.every_h + 12.0));
}

TEST_CASE("a time finds the run it falls in, else the next, else the last") {
  Scenario scenario = *preset_scenario("split-8", 1, 2000.0);
  repeat_runs(scenario, 3, 86400.0);
  CHECK(run_at(scenario, 0.0) == 0);
  CHECK(run_at(scenario, 1000.0) == 0);
  CHECK(run_at(scenario, 40000.0) == 1);
  CHECK(run_at(scenario, 1e9) == 2);
}

TEST_CASE("sets cannot have what they have not got the parts for") {
  const SetSpec single = preset_scenario("single-12")->set;
  const SetSpec dry = preset_scenario("dry-20")->set;
  CHECK_FALSE(cannot_have(FaultKind::leg_imbalance, single).empty());
  CHECK_FALSE(cannot_have(FaultKind::voltage_unbalance, single).empty());
  CHECK_FALSE(cannot_have(FaultKind::exhaust_jump, dry).empty());
  CHECK(cannot_have(FaultKind::exhaust_high, dry).empty());
  CHECK(cannot_have(FaultKind::leg_imbalance, dry).empty());
}

}  // namespace
}  // namespace telltale::host::sim
