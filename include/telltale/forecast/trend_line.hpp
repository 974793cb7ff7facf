// TrendLine: a robust straight line through points at any times, with the
// interval of its slope.
#pragma once

#include <algorithm>
#include <cmath>
#include <concepts>
#include <cstddef>
#include <limits>
#include <span>

#include "telltale/condition/median.hpp"

namespace telltale {

/// NaN in every member: no two points at different times.
template <std::floating_point R>
struct TrendLine {
  R slope = kNone;  // per unit of time
  R low = kNone;    // limits of the slope's interval
  R high = kNone;
  R middle = kNone;  // median of the times
  R level = kNone;   // of the line there

  [[nodiscard]] R at(R t) const { return level + slope * (t - middle); }

  static constexpr R kNone = std::numeric_limits<R>::quiet_NaN();
};

/// Ranks of the slopes that limit the interval, counted from 0. `half_width`
/// is C = z sqrt(Var S), in pairs (Sen 1968; USGS Statistical Methods in Water
/// Resources, chapter 10: ranks (N - C) / 2 and (N + C) / 2 + 1 from 1).
struct SlopeRanks {
  std::size_t low = 0;
  std::size_t high = 0;
};
template <std::floating_point R>
SlopeRanks slope_ranks(std::size_t pairs, R half_width) {
  const R n = static_cast<R>(pairs);
  const R low = std::nearbyint((n - half_width) / R(2)) - R(1);
  const R high = std::nearbyint((n + half_width) / R(2));
  const R last = n - R(1);
  return {static_cast<std::size_t>(std::clamp(low, R(0), last)),
          static_cast<std::size_t>(std::clamp(high, R(0), last))};
}

/// Theil-Sen: the median of all slopes between points at different times; the
/// line goes through the median of what is left of y. `scratch` holds
/// n (n - 1) / 2 numbers, and n at least. `half_width`: see slope_ranks.
/// REQUIRES: t and y are equally long and finite.
template <std::floating_point R>
TrendLine<R> theil_sen_line(std::span<const R> t, std::span<const R> y,
                            std::span<R> scratch, R half_width) {
  TrendLine<R> line;
  const std::size_t n = y.size();
  std::size_t pairs = 0;
  for (std::size_t i = 0; i < n; ++i) {
    for (std::size_t j = i + 1; j < n; ++j) {
      if (t[j] != t[i]) scratch[pairs++] = (y[j] - y[i]) / (t[j] - t[i]);
    }
  }
  if (pairs == 0) return line;
  const std::span<R> slopes = scratch.first(pairs);
  const SlopeRanks ranks = slope_ranks(pairs, half_width);
  const auto ranked = [&slopes](std::size_t rank) {
    const auto nth = slopes.begin() + static_cast<std::ptrdiff_t>(rank);
    std::nth_element(slopes.begin(), nth, slopes.end());
    return *nth;
  };
  line.low = ranked(ranks.low);
  line.high = ranked(ranks.high);
  line.slope = median_in_place(slopes);
  const std::span<R> rest = scratch.first(n);
  std::copy(t.begin(), t.end(), rest.begin());
  line.middle = median_in_place(rest);
  for (std::size_t i = 0; i < n; ++i) {
    rest[i] = y[i] - line.slope * (t[i] - line.middle);
  }
  line.level = median_in_place(rest);
  return line;
}

}  // namespace telltale
