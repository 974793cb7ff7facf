#include "season/trend.hpp"

#include <algorithm>
#include <boost/math/distributions/normal.hpp>
#include <boost/math/distributions/students_t.hpp>
#include <cmath>
#include <numbers>
#include <vector>

#include "season/slope_ranking.hpp"
#include "telltale/condition/median.hpp"
#include "telltale/condition/trend.hpp"

namespace telltale::host::season {
namespace {

constexpr double kOneSided = 0.975;  // of a 95 % interval

double normal_quantile() {
  static const double kValue =
      boost::math::quantile(boost::math::normal(), kOneSided);
  return kValue;
}

/// Two-sided quantile for a series that is worth so many points.
double quantile_for(double worth) {
  const double free = std::max(worth - 2.0, 1.5);
  return free > 200.0
             ? normal_quantile()
             : boost::math::quantile(boost::math::students_t(free), kOneSided);
}

double two_sided(double z, double worth) {
  const double free = std::max(worth - 2.0, 1.5);
  const double off = std::abs(z);
  return 2.0 * (free > 200.0 ? boost::math::cdf(boost::math::complement(
                                   boost::math::normal(), off))
                             : boost::math::cdf(boost::math::complement(
                                   boost::math::students_t(free), off)));
}

}  // namespace

double trend_variance_factor(std::size_t count, double correlation) {
  const double n = static_cast<double>(count);
  if (count < 4 || !(correlation > 0.0)) return 1.0;
  double sum = 0.0;
  double power = 1.0;
  for (std::size_t k = 1; k + 3 <= count; ++k) {
    power *= correlation;
    if (power < 1e-6) break;
    const double left = n - static_cast<double>(k);
    // Of ranks, where the values' is `power` (bivariate normal).
    const double of_ranks = 6.0 / std::numbers::pi * std::asin(power / 2.0);
    sum += left * (left - 1.0) * (left - 2.0) * of_ranks;
  }
  return 1.0 + 2.0 * sum / (n * (n - 1.0) * (n - 2.0));
}

Trend fit_trend(std::span<const double> t, std::span<const double> y) {
  Trend out;
  out.n = y.size();
  if (y.size() < 3 || !(t.back() > t.front())) return out;
  std::vector<double> scratch(y.size());
  const MannKendall<double> kendall =
      mann_kendall(y, std::span<double>(scratch));
  SlopeRanking slopes(t, y);
  const double slope = slopes.median();
  // What the line leaves, for its scatter and its serial correlation.
  std::vector<double> rest(t.begin(), t.end());
  const double middle_t = median_in_place(std::span<double>(rest));
  for (std::size_t i = 0; i < y.size(); ++i) {
    rest[i] = y[i] - slope * (t[i] - middle_t);
  }
  scratch = rest;
  const double level = median_in_place(std::span<double>(scratch));
  out.correlation = std::clamp(
      detrended_autocorrelation(std::span<const double>(rest)), 0.0, 0.95);
  const double factor = trend_variance_factor(y.size(), out.correlation);
  const double worth = static_cast<double>(y.size()) / factor;
  out.quantile = quantile_for(worth);

  const double half_width = out.quantile * std::sqrt(kendall.variance * factor);
  const auto limits = slopes.limits(half_width);
  out.ok = true;
  out.slope = slope;
  out.low = limits.low;
  out.high = limits.high;
  out.p = two_sided(kendall.z / std::sqrt(factor), worth);

  double mean_t = 0.0;
  for (const double x : t) mean_t += x / static_cast<double>(t.size());
  for (double& r : scratch) r = std::abs(r - level);
  const double sigma = 1.4826 * median_in_place(std::span<double>(scratch));
  out.line.slope = slope;
  out.line.slope_se = (out.high - out.low) / (2.0 * out.quantile);
  out.line.middle = mean_t;
  out.line.level = level + slope * (mean_t - middle_t);
  // 1.2533: a median's standard error over a mean's.
  out.line.level_se = 1.2533 * sigma / std::sqrt(worth);
  return out;
}

void widen(Trend& trend, double slope_variance, double level_variance) {
  if (!trend.ok) return;
  const double more = trend.quantile * std::sqrt(std::max(slope_variance, 0.0));
  trend.low = trend.slope - std::hypot(trend.slope - trend.low, more);
  trend.high = trend.slope + std::hypot(trend.high - trend.slope, more);
  // The test statistic shrinks as its standard error grows.
  const double before = trend.line.slope_se;
  const double after =
      std::sqrt(before * before + std::max(slope_variance, 0.0));
  if (before > 0.0 && trend.p < 1.0) {
    const boost::math::normal unit;
    const double z = boost::math::quantile(
        boost::math::complement(unit, std::max(trend.p, 1e-300) / 2.0));
    trend.p = 2.0 * boost::math::cdf(boost::math::complement(
                        unit, std::abs(z) * before / after));
  }
  trend.line.slope_se = after;
  trend.line.level_se =
      std::hypot(trend.line.level_se, std::sqrt(std::max(level_variance, 0.0)));
}

}  // namespace telltale::host::season
