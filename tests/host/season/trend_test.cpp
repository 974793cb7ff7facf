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

// The selection by a sample must give what sorting everything gives.
TEST_CASE("long series are ranked exactly") {
  Noise noise(7);
  const std::vector<double> y = noise.series(300);
  const std::vector<double> t = counted_from(0.0, y.size());
  std::vector<double> all;
  for (std::size_t i = 0; i < y.size(); ++i) {
    for (std::size_t j = i + 1; j < y.size(); ++j) {
      all.push_back((y[j] - y[i]) / (t[j] - t[i]));
    }
  }
  std::sort(all.begin(), all.end());
  const SlopeRanking ranking(t, y);
  CHECK(ranking.pairs() == all.size());
  CHECK(ranking.median() ==
        0.5 * (all[all.size() / 2 - 1] + all[all.size() / 2]));
  const SlopeRanks ranks = slope_ranks(all.size(), 4000.0);
  CHECK(ranking.limits(4000.0).low == all[ranks.low]);
  CHECK(ranking.limits(4000.0).high == all[ranks.high]);
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
