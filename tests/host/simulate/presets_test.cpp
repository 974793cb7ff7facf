#include "simulate/presets.hpp"

#include <set>
#include <string>

#include "catch.hpp"
#include "simulate/everyday.hpp"
#include "simulate/write.hpp"

namespace telltale::host::sim {
namespace {

TEST_CASE("presets are told apart and an unknown one is refused") {
  std::set<std::string> names;
  for (const PresetInfo& preset : presets()) {
    const auto scenario = preset_scenario(preset.name);
    REQUIRE(scenario);
    names.insert(scenario->set.name);
    CHECK(scenario->preset == preset.name);
  }
  CHECK(names.size() == presets().size());
  CHECK_FALSE(preset_scenario("no-such-set"));
}

TEST_CASE("every preset runs once and is healthy by the contract's limits") {
  for (const PresetInfo& preset : presets()) {
    for (std::uint64_t seed = 1; seed <= 3; ++seed) {
      INFO(preset.name << " seed " << seed);
      const Truth truth = truth_of(*preset_scenario(preset.name, seed)).truth;
      REQUIRE(truth.runs.size() == 1);
      const TrueRun& run = truth.runs.front();
      for (const Verdict& verdict : run.verdicts) {
        INFO(verdict.check);
        CHECK(verdict.degree == Degree::none);
      }
      CHECK(truth.log_verdicts.empty());
      CHECK(run.attempts == 1);
      CHECK(run.begins_in_log);
      CHECK(run.ends_in_log);
      CHECK_FALSE(run.abrupt);
    }
  }
}

TEST_CASE("short logs are healthy too") {
  for (double length : {300.0, 600.0, 1500.0}) {
    INFO(length);
    const Truth truth =
        truth_of(*preset_scenario("single-12", 1, length)).truth;
    REQUIRE(truth.runs.size() == 1);
    CHECK(truth.runs[0].verdicts.empty());
    CHECK(truth.runs[0].ends_in_log);
  }
}

TEST_CASE("sets have the sensors for the legs they have, in their units") {
  const SetSpec three = preset_scenario("three-40")->set;
  const SetSpec single = preset_scenario("single-12")->set;
  const auto has = [](const std::vector<SensorSpec>& sensors, Channel channel) {
    for (const SensorSpec& s : sensors) {
      if (s.channel == channel) return true;
    }
    return false;
  };
  CHECK(has(usual_sensors(three, UnitSystem::metric), Channel::voltage_l3));
  CHECK_FALSE(
      has(usual_sensors(single, UnitSystem::metric), Channel::voltage_l2));
  CHECK_FALSE(
      has(usual_sensors(single, UnitSystem::metric), Channel::voltage_line));
  for (const SensorSpec& s : usual_sensors(three, UnitSystem::us)) {
    const Unit unit = info_of(s.channel).unit;
    if (unit == Unit::kPa) CHECK(s.unit == LogUnit::psi);
    if (unit == Unit::degC) CHECK(s.unit == LogUnit::degF);
    CHECK(conversion(s.unit, unit));
  }
}

TEST_CASE("repeated runs follow each other about as far apart as asked") {
  Scenario scenario = *preset_scenario("split-8", 1, 1800.0);
  repeat_runs(scenario, 20, 7200.0);
  REQUIRE(scenario.runs.size() == 20);
  for (std::size_t i = 1; i < scenario.runs.size(); ++i) {
    CHECK(scenario.runs[i].start_s > scenario.runs[i - 1].end_s());
  }
  CHECK(scenario.runs[19].start_s == Approx(19 * 7200.0).margin(2500.0));
  const Truth truth = truth_of(scenario).truth;
  CHECK(truth.runs.size() == 20);
  for (const TrueRun& run : truth.runs) CHECK(run.verdicts.empty());
}

}  // namespace
}  // namespace telltale::host::sim
