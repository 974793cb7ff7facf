// The profile that belongs to a scenario's set.
#pragma once

#include <string>

#include "simulate/set.hpp"

namespace telltale::host::sim {

/// The set as a telltale profile (TOML): name plate and service plan.
std::string write_profile(const SetSpec& set);

}  // namespace telltale::host::sim
