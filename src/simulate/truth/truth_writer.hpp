// The truth file: "telltale.truth/1".
#pragma once

#include <string>

#include "simulate/truth/truth.hpp"

namespace telltale::host::sim {

/// The truth as JSON text, times in the log's own base.
std::string truth_json(const Truth& truth, const Scenario& scenario);

}  // namespace telltale::host::sim
