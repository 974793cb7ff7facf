#include "commands/simulate_options.hpp"

#include <algorithm>
#include <string>
#include <vector>

#include "catch.hpp"

namespace telltale::tool {
namespace {

namespace sim = host::sim;

/// The scenarios, or the line that says why there are none.
struct Parsed {
  std::vector<sim::Scenario> scenarios;
  std::string error;
};

Parsed parse(std::vector<std::string> words) {
  CLI::App program;
  SimulateOptions options;
  declare(program, options);
  std::reverse(words.begin(), words.end());  // as CLI11 wants its vectors
  try {
    program.parse(words);
  } catch (const CLI::ParseError& error) {
    return {{}, error.what()};
  }
  auto scenarios = scenarios_of(options);
  if (!scenarios) return {{}, scenarios.error().line()};
  return {*scenarios, ""};
}

TEST_CASE("without options: the first preset, one run, healthy") {
  const Parsed parsed = parse({});
  REQUIRE(parsed.scenarios.size() == 1);
  CHECK(parsed.scenarios[0].preset == "split-8");
  CHECK(parsed.scenarios[0].faults.empty());
  CHECK(parsed.scenarios[0].log_to_s == 4200.0);
}

TEST_CASE("options reach the scenario") {
  const Parsed parsed = parse({"--preset",
                               "three-40",
                               "--seed",
                               "7",
                               "--duration",
                               "2h",
                               "--interval",
                               "5",
                               "--fault",
                               "charging-low@30m:12.5",
                               "--fault",
                               "sensor-frozen/oil_pressure@1h",
                               "--units",
                               "us",
                               "--time",
                               "dmy",
                               "--delimiter",
                               "semicolon",
                               "--decimal",
                               "comma",
                               "--start",
                               "2025-12-31T23:00:00Z",
                               "--sea",
                               "4",
                               "--no-alarms",
                               "--channels",
                               "frequency,oil_pressure"});
  REQUIRE(parsed.scenarios.size() == 1);
  const sim::Scenario& scenario = parsed.scenarios[0];
  CHECK(scenario.set.rating.power_kw == 40.0);
  CHECK(scenario.seed == 7);
  CHECK(scenario.log_to_s == 7200.0);
  CHECK(scenario.interval_s == 5.0);
  REQUIRE(scenario.faults.size() == 2);
  CHECK(scenario.faults[0].full_size() == 12.5);
  CHECK(scenario.faults[1].target() == Channel::oil_pressure);
  CHECK(scenario.format.time == sim::TimeStyle::day_first);
  CHECK(scenario.format.delimiter == ';');
  CHECK(scenario.format.decimal == ',');
  CHECK(scenario.clock.ms == 1767222000000);  // GNU date
  CHECK(scenario.environment.sea_c == 4.0);
  CHECK_FALSE(scenario.alarm_column);
  REQUIRE(scenario.sensors.size() == 2);
  CHECK(scenario.sensors[1].unit == host::LogUnit::psi);
}

TEST_CASE("runs and sets multiply") {
  const Parsed season =
      parse({"--runs", "5", "--every", "12h", "--duration", "30m"});
  REQUIRE(season.scenarios.size() == 1);
  CHECK(season.scenarios[0].runs.size() == 5);
  const Parsed fleet = parse({"--sets", "3", "--fault", "charging-low@30m"});
  REQUIRE(fleet.scenarios.size() == 3);
  CHECK(fleet.scenarios[0].faults.size() == 1);
  CHECK(fleet.scenarios[1].faults.empty());
  CHECK(fleet.scenarios[2].format.unit_column == "Set 3");
}

TEST_CASE("a random scenario takes its fault by name and draws the rest") {
  CHECK(parse({"--random", "--healthy"}).scenarios.at(0).faults.empty());
  const Parsed one = parse({"--random", "--fault", "overload", "--seed", "4"});
  CHECK(one.scenarios.at(0).faults.at(0).kind == sim::FaultKind::overload);
  CHECK(parse({"--random"}).scenarios.at(0).faults.size() == 1);
}

TEST_CASE("what makes no sense is refused with a reason") {
  const std::vector<std::vector<std::string>> bad = {
      {"--preset", "none"},
      {"--duration", "soon"},
      {"--duration", "10"},
      {"--interval", "0"},
      {"--start", "yesterday"},
      {"--fault", "no-check@5m"},
      {"--fault", "charging-low"},
      {"--fault", "charging-low@5m", "--healthy"},
      {"--preset", "single-12", "--fault", "leg-imbalance@5m"},
      {"--preset", "dry-20", "--fault", "exhaust-jump@5m"},
      {"--decimal", "comma"},
      {"--channels", "oil"},
      {"--delimiter", "star"},
      {"--log-from", "2h", "--log-to", "1h"},
      {"--random", "--duration", "2h"},
      {"--random", "--fault", "overload@5m"},
      {"--random", "--fault", "exhaust-jump", "--preset", "dry-20"},
  };
  for (const auto& words : bad) {
    INFO(words.front() << " " << words.back());
    const Parsed parsed = parse(words);
    CHECK(parsed.scenarios.empty());
    CHECK_FALSE(parsed.error.empty());
  }
}

}  // namespace
}  // namespace telltale::tool
