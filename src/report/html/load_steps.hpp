// Which load steps of a run are told one by one.
#pragma once

#include <cstddef>
#include <vector>

#include "report/health_report.hpp"

namespace telltale::host {

inline constexpr std::size_t kMostSteps = 20;

/// The largest, at most kMostSteps, in order of time.
std::vector<LoadStep> largest_steps(const RunReport& run);

}  // namespace telltale::host
