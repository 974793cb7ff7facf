// The truth file: "telltale.truth/1".
#pragma once

#include <span>
#include <string>

#include "simulate/truth/truth.hpp"

namespace telltale::host::sim {

/// The truth of all sets of one log as JSON text, times in the log's own
/// base.
std::string write_truth(std::span<const SetTruth> sets);

}  // namespace telltale::host::sim
