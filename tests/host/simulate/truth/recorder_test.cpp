#include "simulate/truth/recorder.hpp"

#include <algorithm>
#include <cmath>
#include <string_view>
#include <utility>
#include <vector>

#include "catch.hpp"
#include "simulate/presets.hpp"
#include "simulate/write.hpp"

namespace telltale::host::sim {
namespace {

std::vector<TruePhase> phases_of(const TrueRun& run) {
  std::vector<TruePhase> out;
  for (const PhaseSpan& span : run.phases) out.push_back(span.phase);
  return out;
}

bool has(const TrueRun& run, std::string_view check) {
  return std::any_of(run.verdicts.begin(), run.verdicts.end(),
                     [check](const Verdict& v) { return v.check == check; });
}

Scenario with(FaultKind kind, double at_s, double size = std::nan("")) {
  Scenario scenario = *preset_scenario("split-8", 1, 4200.0);
  scenario.faults = {{.kind = kind, .at_s = at_s, .size = size}};
  return scenario;
}

TEST_CASE("a run is cut into its phases without gaps") {
  const TrueRun run =
      truth_of(*preset_scenario("split-8", 1, 1800.0)).truth.runs.at(0);
  using enum TruePhase;
  CHECK(phases_of(run) == std::vector{cranking, running_up, no_load, on_load,
                                      cool_down, stopping});
  CHECK(run.phases.front().from == run.start);
  CHECK(run.phases.back().to == run.end);
  for (std::size_t i = 1; i < run.phases.size(); ++i) {
    CHECK(run.phases[i].from == Approx(run.phases[i - 1].to).margin(1e-6));
  }
  CHECK(run.phases[4].to - run.phases[4].from == Approx(240.0).margin(2.0));
  CHECK(run.crank_s == Approx(3.0).margin(1.5));
  CHECK(run.running_s == Approx(run.end - run.phases[1].from).margin(1.0));
}

TEST_CASE("failed attempts belong to the run that follows") {
  const TrueRun run =
      truth_of(with(FaultKind::repeated_cranking, 0.0, 4.0)).truth.runs.at(0);
  CHECK(run.attempts == 4);
  CHECK(run.crank_s == Approx(3 * 9.0 + 3.0).margin(3.0));
  CHECK(has(run, "repeated-cranking"));
}

TEST_CASE("attempts that never start make a run without running") {
  const Truth truth =
      truth_of(with(FaultKind::repeated_cranking, 0.0, -4.0)).truth;
  REQUIRE(truth.runs.size() == 1);
  CHECK(truth.runs[0].attempts == 4);
  CHECK(truth.runs[0].running_s == 0.0);
  CHECK_FALSE(truth.runs[0].abrupt);
  CHECK(has(truth.runs[0], "repeated-cranking"));
}

TEST_CASE("a log that begins and ends in a run says so") {
  Scenario scenario = *preset_scenario("split-8", 1, 4200.0);
  scenario.log_from_s = 1000.0;
  scenario.log_to_s = 2000.0;
  const TrueRun run = truth_of(scenario).truth.runs.at(0);
  CHECK_FALSE(run.begins_in_log);
  CHECK_FALSE(run.ends_in_log);
  CHECK(phases_of(run) == std::vector{TruePhase::on_load});
  CHECK(run.running_s == Approx(1000.0).margin(1.1));
}

TEST_CASE("an abrupt stop names what left its band first") {
  using enum Channel;
  const std::pair<double, Channel> causes[] = {
      {0.0, engine_speed}, {1.0, oil_pressure}, {2.0, coolant_temperature}};
  for (const auto& [cause, first_out] : causes) {
    INFO(cause);
    const TrueRun run =
        truth_of(with(FaultKind::abrupt_stop, 2400.0, cause)).truth.runs.at(0);
    CHECK(run.abrupt);
    REQUIRE(has(run, "abrupt-stop"));
    for (const Verdict& v : run.verdicts) {
      if (v.check == "abrupt-stop") CHECK(v.first_out == first_out);
    }
    CHECK_FALSE(has(run, "stop-under-load"));
  }
}

TEST_CASE("a seized engine and an emergency stop are abrupt as well") {
  for (double cause : {3.0, 4.0}) {
    const TrueRun run =
        truth_of(with(FaultKind::abrupt_stop, 2400.0, cause)).truth.runs.at(0);
    CHECK(run.abrupt);
    CHECK(has(run, "abrupt-stop"));
    CHECK(run.end < 2600.0);
  }
}

TEST_CASE("a stop under load is never an abrupt one") {
  const TrueRun run =
      truth_of(with(FaultKind::stop_under_load, 2400.0)).truth.runs.at(0);
  CHECK_FALSE(run.abrupt);
  CHECK(has(run, "stop-under-load"));
  CHECK_FALSE(has(run, "abrupt-stop"));
  CHECK_FALSE(has(run, "short-cool-down"));
}

TEST_CASE("over-excitation replaces the general findings") {
  const TrueRun run =
      truth_of(with(FaultKind::over_excitation, 0.0)).truth.runs.at(0);
  CHECK(has(run, "over-excitation"));
  CHECK_FALSE(has(run, "voltage-high"));
  CHECK_FALSE(has(run, "frequency-high"));
}

TEST_CASE("figures of a run are those of the model") {
  const SetTruth sound = truth_of(*preset_scenario("split-8", 1, 4200.0));
  const TrueFigures& f = sound.truth.runs.at(0).figures;
  CHECK(f.hot_oil_kpa == Approx(sound.scenario.set.oil.hot_kpa).epsilon(1e-6));
  CHECK(f.droop_pct == sound.scenario.set.governor.droop_pct);
  CHECK(f.half_load_hz == Approx(61.2).margin(0.2));
  CHECK(f.charging_v == Approx(14.2).margin(0.05));
  CHECK(f.crank_v == Approx(10.8).margin(0.5));
  CHECK(f.light_load_pct > 5.0);
  CHECK(f.light_load_pct < 40.0);
  const SetTruth worn =
      truth_of(with(FaultKind::oil_pressure_fade, 600.0, 20.0));
  CHECK(worn.truth.runs.at(0).figures.hot_oil_kpa ==
        Approx(0.8 * sound.scenario.set.oil.hot_kpa).epsilon(1e-3));
}

}  // namespace
}  // namespace telltale::host::sim
