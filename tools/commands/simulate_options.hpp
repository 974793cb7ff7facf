// The options of `telltale simulate`, and the scenarios they ask for.
#pragma once

#include <CLI/CLI.hpp>
#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "simulate/scenario.hpp"
#include "support/result.hpp"

namespace telltale::tool {

struct SimulateOptions {
  std::string preset;  // empty: split-8, or any in a random scenario
  std::uint64_t seed = 1;
  bool random = false;
  bool healthy = false;
  bool list = false;
  std::vector<std::string> faults;

  std::string duration = "70m";
  double interval_s = 1.0;
  std::string start = "2026-06-01T08:00:00Z";
  int runs = 1;
  std::string every = "24h";
  int sets = 1;
  double sea_c = 18.0;
  double air_c = 21.0;
  double day_swing_k = 0.0;
  double year_swing_k = 0.0;
  std::string log_from;
  std::string log_to;

  std::optional<host::sim::UnitSystem> units;
  std::vector<std::string> channels;
  host::sim::LogFormat format;
  bool no_state = false;
  bool no_alarms = false;

  /// Options that --random decides by itself.
  std::vector<const CLI::Option*> drawn;

  std::string out = "-";
  std::string truth;
  std::string profile;
};

/// Declares the options; they are valid after `command` was parsed.
void declare(CLI::App& command, SimulateOptions& options);

/// One scenario a set. Errors name the option.
host::Result<std::vector<host::sim::Scenario>> scenarios_of(
    const SimulateOptions& options);

}  // namespace telltale::tool
