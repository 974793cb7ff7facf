// Which load steps of a run are told one by one.
#pragma once

#include <cstddef>
#include <vector>

#include "report/health_report.hpp"

namespace telltale::host {

/// The largest, at most so many, in order of time.
std::vector<LoadStep> largest_steps(const RunReport& run, std::size_t most);

}  // namespace telltale::host
