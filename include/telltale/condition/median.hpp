// Median and other order statistics of a small array, in place.
#pragma once

#include <algorithm>
#include <cmath>
#include <concepts>
#include <cstddef>
#include <limits>
#include <span>

#include "telltale/base/box.hpp"
#include "telltale/base/insertion_sort.hpp"

namespace telltale {

/// The p-quantile, 0 <= p <= 1, by linear interpolation between order
/// statistics (type 7 of Hyndman and Fan 1996). Reorders `values`. NaN when
/// empty. Cost grows linearly with the size.
template <std::floating_point R>
R quantile_in_place(std::span<R> values, R p) {
  if (values.empty()) return std::numeric_limits<R>::quiet_NaN();
  const R position = p * static_cast<R>(values.size() - 1U);
  const auto below = static_cast<std::size_t>(position);
  const R fraction = position - static_cast<R>(below);
  const auto nth = values.begin() + static_cast<std::ptrdiff_t>(below);
  if constexpr (kOnBox<R>) {
    insertion_sort(values);
  } else {
    std::nth_element(values.begin(), nth, values.end());
  }
  const R low = *nth;
  if (fraction <= R(0) || below + 1U >= values.size()) return low;
  const R high = *std::min_element(nth + 1, values.end());
  return low + fraction * (high - low);
}

/// The median; the mean of the middle two when the count is even.
template <std::floating_point R>
R median_in_place(std::span<R> values) {
  return quantile_in_place(values, R(0.5));
}

}  // namespace telltale
