// Trend: slope and interval against scipy, coverage by repetition.
#include "season/trend.hpp"

#include <algorithm>
#include <cmath>

#include "catch.hpp"
#include "noise.hpp"
#include "published_series.hpp"
#include "season/slope_ranking.hpp"
#include "telltale/forecast/trend_line.hpp"

namespace telltale::host::season {
namespace {

using published::counted_from;
using published::kNhtemp;
using published::kNile;
using published::kPhones;

// scipy.stats.theilslopes(y, x, 0.95): slope, low, high.
TEST_CASE("slopes and Sen's intervals equal scipy's") {
  const auto check = [](const std::vector<double>& y, double slope, double low,
                        double high) {
    const SlopeRanking ranking(counted_from(1.0, y.size()), y);
    CHECK(ranking.median() == Approx(slope).epsilon(1e-12));
    // z of 97.5 % times the sd of Kendall's S, ties counted.
    const double n = static_cast<double>(y.size());
    double variance = n * (n - 1.0) * (2.0 * n + 5.0);
    std::vector<double> sorted = y;
    std::sort(sorted.begin(), sorted.end());
    for (std::size_t i = 0; i < sorted.size();) {
      std::size_t j = i;
      while (j < sorted.size() && sorted[j] == sorted[i]) ++j;
      const double t = static_cast<double>(j - i);
      variance -= t * (t - 1.0) * (2.0 * t + 5.0);
      i = j;
    }
    const auto limits =
        ranking.limits(1.959963984540054 * std::sqrt(variance / 18.0));
    CHECK(limits.low == Approx(low).epsilon(1e-12));
    CHECK(limits.high == Approx(high).epsilon(1e-12));
  };
  check(kNile, -2.6, -3.627906976744186, -1.4285714285714286);
  check(kNhtemp, 0.034482758620690, 0.020408163265306, 0.05);
  check(kPhones, 1.3875, 1.125, 5.1);
}

/// Series of every sort that readings come in.
std::vector<double> made_up(int sort, std::size_t n, Noise& noise) {
  std::vector<double> y = noise.series(n);
  for (std::size_t i = 0; i < n; ++i) {
    const double trend = 0.01 * static_cast<double>(i);
    switch (sort) {
      case 0:  // a plain trend
        y[i] += trend;
        break;
      case 1:  // rounded to tenths: slopes tie by the hundred
        y[i] = std::round(2.0 * (y[i] + trend)) / 10.0;
        break;
      case 2:  // far from zero
        y[i] = 30'000.0 + std::round(y[i]);
        break;
      case 3:  // one value but for a few
        y[i] = y[i] > 2.0 ? 2.0 : 1.0;
        break;
      default:  // one value
        y[i] = 5.0;
    }
  }
  return y;
}

// The selection must give what sorting all slopes gives, to the last bit.
TEST_CASE("slopes are ranked exactly") {
  Noise noise(7);
  for (int sort = 0; sort < 5; ++sort) {
    for (const bool even : {true, false}) {
      for (const std::size_t n : {3U, 40U, 63U, 64U, 65U, 200U, 301U}) {
        const std::vector<double> y = made_up(sort, n, noise);
        std::vector<double> t = counted_from(0.0, n);
        for (double& x : t) {
          x = even ? 2.0 * x : std::floor(0.5 * (x + noise.uniform()));
        }
        std::vector<double> scratch(n * n);
        const double half_width =
            std::pow(static_cast<double>(n), 1.5) * noise.uniform();
        const TrendLine<double> slow = theil_sen_line<double>(
            t, y, std::span<double>(scratch), half_width);
        const SlopeRanking ranking(t, y);
        INFO("sort " << sort << ", " << n << " points, even " << even);
        CHECK(ranking.median() == slow.slope);
        CHECK(ranking.limits(half_width).low == slow.low);
        CHECK(ranking.limits(half_width).high == slow.high);
      }
    }
  }
}

// R: cor.test(t, x, method = "kendall", exact = FALSE, continuity = TRUE) has
// p = 3.658e-05 for the Nile; the Nile is correlated in itself, so that an
// honest p is larger.
TEST_CASE("serial correlation weakens a trend and never strengthens it") {
  const Trend nile = fit_trend(counted_from(1871.0, kNile.size()), kNile);
  REQUIRE(nile.ok);
  CHECK(nile.slope == Approx(-2.6).epsilon(1e-12));
  CHECK(nile.correlation > 0.2);
  CHECK(nile.p > 3.65826292166e-05);
  CHECK(nile.low < -3.627906976744186);
  CHECK(nile.high > -1.4285714285714286);
}

// 95 % intervals must hold the true slope in some 95 of 100 series, also of
// correlated noise; 600 series have a standard error of 0.9 %.
TEST_CASE("intervals cover the true slope as often as they promise") {
  for (const double correlation : {0.0, 0.3, 0.5}) {
    Noise noise(11);
    int covered = 0;
    int rejected = 0;
    constexpr int kSeries = 600;
    constexpr double kSlope = 0.02;
    for (int s = 0; s < kSeries; ++s) {
      std::vector<double> t;
      std::vector<double> y = noise.series(60, correlation);
      double now = 0.0;
      for (double& x : y) {
        now += 0.2 + 2.0 * noise.uniform();  // at any times
        t.push_back(now);
        x += kSlope * now;
      }
      const Trend trend = fit_trend(t, y);
      covered += trend.low <= kSlope && kSlope <= trend.high ? 1 : 0;
      for (std::size_t i = 0; i < y.size(); ++i) y[i] -= kSlope * t[i];
      rejected += fit_trend(t, y).p < 0.05 ? 1 : 0;
    }
    INFO("correlation " << correlation);
    CHECK(covered >= 0.92 * kSeries);
    CHECK(covered <= 0.985 * kSeries);
    CHECK(rejected <= 0.08 * kSeries);
    CHECK(rejected >= 0.01 * kSeries);
  }
}

TEST_CASE("what was added to the variance widens the interval") {
  Noise noise(3);
  Trend trend = fit_trend(counted_from(0.0, 40), noise.series(40));
  const Trend before = trend;
  widen(trend, 9.0 * before.line.slope_se * before.line.slope_se, 0.0);
  CHECK(trend.high - trend.slope ==
        Approx(std::hypot(before.high - before.slope,
                          3.0 * before.quantile * before.line.slope_se)));
  CHECK(trend.p > before.p);
  CHECK(trend.slope == before.slope);
}

TEST_CASE("too little for a trend is no trend") {
  CHECK_FALSE(
      fit_trend(std::vector<double>{1, 2}, std::vector<double>{3, 4}).ok);
  CHECK_FALSE(
      fit_trend(std::vector<double>{5, 5, 5}, std::vector<double>{1, 2, 3}).ok);
}

}  // namespace
}  // namespace telltale::host::season
