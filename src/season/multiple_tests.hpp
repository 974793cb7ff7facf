// Many tests at once: which of them may be believed.
#pragma once

#include <algorithm>
#include <cstddef>
#include <numeric>
#include <span>
#include <vector>

namespace telltale::host::season {

/// Benjamini and Hochberg (1995): believing exactly those whose place is true
/// keeps the expected share of false ones among them below `rate`; where all
/// are false, the chance of believing any is below `rate`. Good for
/// independent and for positively dependent tests.
inline std::vector<bool> believable(std::span<const double> p, double rate) {
  const std::size_t m = p.size();
  std::vector<std::size_t> order(m);
  std::iota(order.begin(), order.end(), std::size_t{0});
  std::sort(order.begin(), order.end(),
            [p](std::size_t a, std::size_t b) { return p[a] < p[b]; });
  std::size_t last = 0;  // how many are believed
  for (std::size_t i = 0; i < m; ++i) {
    const double allowed =
        rate * static_cast<double>(i + 1) / static_cast<double>(m);
    if (p[order[i]] <= allowed) last = i + 1;
  }
  std::vector<bool> out(m, false);
  for (std::size_t i = 0; i < last; ++i) out[order[i]] = true;
  return out;
}

}  // namespace telltale::host::season
