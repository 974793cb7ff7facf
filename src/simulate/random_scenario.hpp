// Corpora: as many different healthy and faulty scenarios as there are seeds.
#pragma once

#include <cstdint>
#include <optional>
#include <string_view>

#include "simulate/random.hpp"
#include "simulate/scenario.hpp"

namespace telltale::host::sim {

/// A scenario with a varied set, weather, loads, sensors and log dialect.
/// `preset` empty: any that can have the fault. Without a fault it is healthy
/// by the contract's limits, with whatever confounders chance brings; with one,
/// it is observable in the log and large enough to cross its limit.
/// REQUIRES: `preset` is empty or one of presets(), and can have the fault
/// (see cannot_have()).
Scenario random_scenario(std::uint64_t seed, std::string_view preset,
                         std::optional<FaultKind> fault);

// The parts of it.

/// Another example of the same kind of set: nothing leaves the healthy range.
void vary_set(SetSpec& set, Random& random);
/// Columns, resolutions, noise and own sampling; the channels in `keep` stay.
void vary_sensors(Scenario& scenario, ChannelMask keep, Random& random);
/// Any of the spellings that a logger may have.
void vary_format(Scenario& scenario, Random& random);
/// A size that crosses the limit of the check, for that set.
double clear_size(FaultKind kind, const SetSpec& set, Random& random);

}  // namespace telltale::host::sim
