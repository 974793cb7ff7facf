// Which load steps of a run stand on its page one by one.
#pragma once

#include "report/load_steps.hpp"

namespace telltale::host {

inline constexpr std::size_t kMostSteps = 20;

inline std::vector<LoadStep> largest_steps(const RunReport& run) {
  return largest_steps(run, kMostSteps);
}

}  // namespace telltale::host
