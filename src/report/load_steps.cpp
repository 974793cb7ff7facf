#include "report/load_steps.hpp"

#include <algorithm>
#include <cmath>

namespace telltale::host {

std::vector<LoadStep> largest_steps(const RunReport& run, std::size_t most) {
  std::vector<LoadStep> steps = run.load_steps;
  if (steps.size() <= most) return steps;
  std::stable_sort(steps.begin(), steps.end(),
                   [](const LoadStep& a, const LoadStep& b) {
                     return std::abs(a.to_pct - a.from_pct) >
                            std::abs(b.to_pct - b.from_pct);
                   });
  steps.resize(most);
  std::stable_sort(
      steps.begin(), steps.end(),
      [](const LoadStep& a, const LoadStep& b) { return a.line < b.line; });
  return steps;
}

}  // namespace telltale::host
