// Invented generator sets to start from.
#pragma once

#include <span>
#include <string_view>

#include "simulate/scenario.hpp"
#include "support/result.hpp"

namespace telltale::host::sim {

struct PresetInfo {
  std::string_view name;
  std::string_view about;
};

std::span<const PresetInfo> presets();

/// A healthy scenario of that set: `total_s` seconds of log around one run
/// with everyday loads, logged every `interval_s`. Error: no such preset.
Result<Scenario> preset_scenario(std::string_view name, std::uint64_t seed = 1,
                                 double total_s = 4200.0,
                                 double interval_s = 1.0);

/// The sensors such a set is usually logged with: the same for all presets of
/// a unit system, less what the set has not got.
std::vector<SensorSpec> usual_sensors(const SetSpec& set, UnitSystem units);

}  // namespace telltale::host::sim
