#include "simulate/simulate.hpp"

#include <vector>

#include "catch.hpp"
#include "simulate/everyday.hpp"
#include "simulate/presets.hpp"

namespace telltale::host::sim {
namespace {

std::vector<Sample> rows_of(const Scenario& scenario) {
  std::vector<Sample> rows;
  simulate(scenario, [&rows](const Sample& sample) { rows.push_back(sample); });
  return rows;
}

TEST_CASE("rows come at the interval, from the first to the last second") {
  for (double interval : {0.2, 1.0, 10.0, 60.0}) {
    const Scenario scenario = *preset_scenario("split-8", 1, 1200.0, interval);
    const auto rows = rows_of(scenario);
    CHECK(rows.size() == static_cast<std::size_t>(1200.0 / interval + 1.5));
    for (std::size_t i = 0; i < rows.size(); ++i) {
      const auto ms = static_cast<std::int64_t>(
          static_cast<double>(i) * interval * 1000.0 + 0.5);
      REQUIRE(rows[i].stamp.ms == scenario.clock.ms + ms);
    }
  }
}

TEST_CASE("the same second reads alike at any interval, but for noise") {
  // The model itself may step differently; what it says must not.
  Scenario scenario = *preset_scenario("single-12", 1, 2400.0, 1.0);
  for (SensorSpec& sensor : scenario.sensors) sensor.noise = 0.0;
  const auto fine = rows_of(scenario);
  scenario.interval_s = 30.0;
  const auto coarse = rows_of(scenario);
  for (std::size_t column = 0; column < scenario.sensors.size(); ++column) {
    const SensorSpec& sensor = scenario.sensors[column];
    if (info_of(sensor.channel).unit != Unit::degC) continue;
    INFO(info_of(sensor.channel).slug);
    for (std::size_t i = 1; i < coarse.size(); ++i) {
      const double a =
          static_cast<double>(coarse[i].steps[column]) * sensor.resolution;
      const double b =
          static_cast<double>(fine[30 * i].steps[column]) * sensor.resolution;
      REQUIRE(a == Approx(b).margin(3.5));
    }
  }
}

TEST_CASE("a gap leaves rows out, a clock step shifts their stamps") {
  Scenario scenario = *preset_scenario("split-8", 1, 1200.0);
  scenario.faults = {
      {.kind = FaultKind::data_gap, .at_s = 600.0, .size = 100.0},
      {.kind = FaultKind::clock_step, .at_s = 900.0, .size = -3600.0}};
  const auto rows = rows_of(scenario);
  CHECK(rows.size() == 1101);
  CHECK(rows[599].t == 599.0);
  CHECK(rows[600].t == 700.0);
  CHECK(rows.back().stamp.ms == scenario.clock.ms + 1200000 - 3600000);
}

TEST_CASE("a log may begin and end in a run, and leave out the rest") {
  Scenario scenario = *preset_scenario("split-8", 1, 1800.0);
  scenario.log_from_s = 800.0;
  scenario.log_to_s = 1000.0;
  const auto inside = rows_of(scenario);
  CHECK(inside.size() == 201);
  CHECK(inside.front().state == EngineState::loaded);

  scenario = *preset_scenario("split-8", 1, 1200.0);
  repeat_runs(scenario, 3, 86400.0);
  const auto season = rows_of(scenario);
  CHECK(season.size() < 3 * 1600);
  std::size_t starts = 0;
  for (std::size_t i = 1; i < season.size(); ++i) {
    if (season[i].state == EngineState::cranking &&
        season[i - 1].state != EngineState::cranking) {
      ++starts;
    }
  }
  CHECK(starts == 3);
}

TEST_CASE("rest may be logged more slowly than running") {
  Scenario scenario = *preset_scenario("split-8", 1, 3000.0);
  scenario.runs[0].start_s = 1800.5;
  scenario.runs[0].loaded_s = 300.0;
  scenario.rest_interval_s = 60.0;
  const auto rows = rows_of(scenario);
  CHECK(rows[5].t == 300.0);
  for (std::size_t i = 1; i < rows.size(); ++i) {
    if (rows[i - 1].state == EngineState::loaded) {
      CHECK(rows[i].t - rows[i - 1].t == 1.0);
    }
  }
}

}  // namespace
}  // namespace telltale::host::sim
