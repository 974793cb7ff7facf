#include "simulate/truth/truth_writer.hpp"

#include <nlohmann/json.hpp>

#include "catch.hpp"
#include "simulate/presets.hpp"
#include "simulate/write.hpp"

namespace telltale::host::sim {
namespace {

using Json = nlohmann::json;

std::vector<SetTruth> truth_with(std::vector<Fault> faults,
                                 TimeStyle time = TimeStyle::iso,
                                 const char* preset = "split-8") {
  Scenario scenario = *preset_scenario(preset, 1, 4200.0);
  scenario.faults = std::move(faults);
  scenario.format.time = time;
  return {truth_of(scenario)};
}

Json written(const std::vector<SetTruth>& sets) {
  return Json::parse(write_truth(sets));
}

TEST_CASE("a healthy truth has a run, phases, and nothing to find") {
  const Json truth = written(truth_with({}));
  CHECK(truth["schema"] == "telltale.truth/1");
  CHECK(truth["log"]["rows"] == 4201);
  CHECK(truth["log"]["first"] == "2026-06-01T08:00:00");
  CHECK(truth["sets"][0]["power_kw"] == 8.0);
  REQUIRE(truth["runs"].size() == 1);
  const Json& run = truth["runs"][0];
  CHECK(run["verdict"] == "healthy");
  CHECK(run["begins"] == "start");
  CHECK(run["ends"] == "stop");
  CHECK(run["attempts"] == 1);
  CHECK(run["phases"][0]["phase"] == "cranking");
  CHECK(run["load_steps"].size() > 3);
  CHECK(truth["faults"].empty());
}

TEST_CASE("a fault has its severity, its time and what follows of it") {
  const Json truth =
      written(truth_with({{.kind = FaultKind::exhaust_jump, .at_s = 2400.0}}));
  const Json& fault = truth["faults"][0];
  CHECK(fault["check"] == "exhaust-jump");
  CHECK(fault["onset"] == "2026-06-01T08:40:00");
  CHECK(fault["severity"] == "urgent");
  CHECK(fault["observable"] == true);
  CHECK(fault["run"] == 1);
  bool coolant = false;
  for (const Json& consequence : fault["consequences"]) {
    coolant = coolant || consequence["check"] == "coolant-high";
    CHECK(consequence["check"] != "exhaust-jump");
  }
  CHECK(coolant);
  CHECK(truth["runs"][0]["ends"] == "abrupt");
}

TEST_CASE("a fault too small to matter is none") {
  const Json truth = written(truth_with(
      {{.kind = FaultKind::voltage_high, .at_s = 2400.0, .size = 1.0}}));
  CHECK(truth["faults"][0]["severity"] == "none");
  CHECK(truth["runs"][0]["verdict"] == "healthy");
}

TEST_CASE("each of several faults keeps its own") {
  const Json truth = written(
      truth_with({{.kind = FaultKind::charging_high, .at_s = 1500.0},
                  {.kind = FaultKind::voltage_unbalance, .at_s = 2500.0}}));
  REQUIRE(truth["faults"].size() == 2);
  CHECK(truth["faults"][0]["consequences"].empty());
  CHECK(truth["faults"][1]["consequences"][0]["check"] == "voltage-high");
}

TEST_CASE("times are those of the log: elapsed, or after a clock step") {
  const Json elapsed =
      written(truth_with({{.kind = FaultKind::charging_high, .at_s = 1500.0}},
                         TimeStyle::elapsed_s));
  CHECK(elapsed["faults"][0]["onset"] == "t+1500.0");
  CHECK(elapsed["log"]["first"] == "t+0.0");
  const Json stepped = written(truth_with(
      {{.kind = FaultKind::clock_step, .at_s = 1000.0, .size = -3600.0},
       {.kind = FaultKind::charging_high, .at_s = 2400.0}},
      TimeStyle::epoch_s));
  CHECK(stepped["faults"][1]["onset"] == "2026-06-01T07:40:00Z");
}

TEST_CASE("several sets of one log stand side by side") {
  std::vector<SetTruth> sets;
  for (int i = 1; i <= 2; ++i) {
    Scenario scenario = *preset_scenario("single-12", 1, 900.0, 5.0);
    scenario.seed = static_cast<std::uint64_t>(i);
    scenario.format.unit_column = i == 1 ? "Port" : "Starboard";
    sets.push_back(truth_of(scenario));
  }
  const Json truth = written(sets);
  CHECK(truth["sets"].size() == 2);
  CHECK(truth["runs"].size() == 2);
  CHECK(truth["runs"][0]["unit"] == "Port");
  CHECK(truth["runs"][1]["unit"] == "Starboard");
  CHECK(truth["log"]["rows"] == 2 * 181);
}

TEST_CASE("what the log cannot show says why") {
  Scenario scenario = *preset_scenario("split-8", 1, 4200.0, 10.0);
  scenario.faults = {{.kind = FaultKind::crank_dip, .at_s = 0.0}};
  const Json slow = written({truth_of(scenario)});
  CHECK(slow["faults"][0]["severity"] != "none");
  CHECK(slow["faults"][0]["observable"] == false);
  scenario.interval_s = 1.0;
  std::erase_if(scenario.sensors, [](const SensorSpec& s) {
    return s.channel == Channel::battery_voltage;
  });
  const Json blind = written({truth_of(scenario)});
  CHECK(blind["runs"][0]["findings"][0]["why_not"] ==
        "no such channel: battery_voltage");
}

}  // namespace
}  // namespace telltale::host::sim
