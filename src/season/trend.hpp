// Trend: a figure's slope over time with its interval and its significance.
#pragma once

#include <cstddef>
#include <span>

#include "telltale/forecast/time_to_limit.hpp"

namespace telltale::host::season {

struct Trend {
  bool ok = false;  // false: too few points, or all at one time
  std::size_t n = 0;
  double slope = 0.0;  // Theil-Sen, per unit of time
  double low = 0.0;    // 95 % interval
  double high = 0.0;
  double p = 1.0;            // Mann-Kendall, two-sided
  double correlation = 0.0;  // lag one, of what the line leaves; 0 or above
  double quantile = 1.96;    // that the interval was made with
  LineState<double> line;    // for the band and the time to a limit
};

/// Theil-Sen slope (its interval after Sen 1968) and Mann-Kendall test with
/// ties, serial correlation allowed for: the variance of S grows by the factor
/// of Hamed and Rao (1998), its autocorrelations being those of a first-order
/// process whose lag-one value is what the line leaves, bias taken out; the
/// quantile is Student's with as many points as the series is then worth.
/// REQUIRES: all finite, t rises (equal times allowed).
Trend fit_trend(std::span<const double> t, std::span<const double> y);

/// Widens the interval by a further variance of the slope, as comes with a
/// correction that was itself estimated; p follows.
void widen(Trend& trend, double slope_variance, double level_variance);

/// Hamed and Rao's factor on the variance of S, or of a slope, for a
/// first-order process of that lag-one correlation.
double trend_variance_factor(std::size_t n, double correlation);

}  // namespace telltale::host::season
