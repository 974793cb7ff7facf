// Time-weighted statistics against the contract's rules done the long way: a
// reading counts until the channel's next, at most 5 median intervals, the last
// one interval; population sd (contract section 8).
#include "summary/channel_summary.hpp"

#include <algorithm>
#include <cmath>
#include <random>
#include <utility>
#include <vector>

#include "catch.hpp"

namespace telltale::host {
namespace {

struct At {
  double t;
  double x;
};

ChannelFigures summary_of(const std::vector<At>& readings) {
  ChannelSummary summary;
  for (const At& r : readings) {
    summary.add(TimeMs{std::llround(r.t * 1000.0)}, r.x);
  }
  REQUIRE(!summary.empty());
  return summary.finish();
}

/// Everything kept, sorted and added up.
ChannelFigures the_long_way(const std::vector<At>& readings) {
  std::vector<double> steps;
  for (std::size_t i = 1; i < readings.size(); ++i) {
    steps.push_back(readings[i].t - readings[i - 1].t);
  }
  std::sort(steps.begin(), steps.end());
  const double median = steps[(steps.size() - 1) / 2];
  std::vector<std::pair<double, double>> by_value;
  double total = 0.0;
  double sum = 0.0;
  for (std::size_t i = 0; i < readings.size(); ++i) {
    const double step =
        i + 1 < readings.size() ? readings[i + 1].t - readings[i].t : median;
    const double weight = std::min(step, 5.0 * median);
    by_value.emplace_back(readings[i].x, weight);
    total += weight;
    sum += weight * readings[i].x;
  }
  ChannelFigures out;
  out.samples = readings.size();
  out.mean = sum / total;
  double squares = 0.0;
  for (const auto& [x, w] : by_value) {
    squares += w * (x - out.mean) * (x - out.mean);
  }
  out.sd = std::sqrt(squares / total);
  std::sort(by_value.begin(), by_value.end());
  const auto quantile = [&](double p) {
    double reached = 0.0;
    for (const auto& [x, w] : by_value) {
      reached += w;
      if (reached >= p * total * (1.0 - 1e-12)) return x;
    }
    return by_value.back().first;
  };
  out.min = by_value.front().first;
  out.max = by_value.back().first;
  out.p05 = quantile(0.05);
  out.median = quantile(0.5);
  out.p95 = quantile(0.95);
  return out;
}

void check_same(const ChannelFigures& a, const ChannelFigures& b) {
  CHECK(a.samples == b.samples);
  CHECK(a.mean == Approx(b.mean).epsilon(1e-9));
  CHECK(a.sd == Approx(b.sd).epsilon(1e-7).margin(1e-9));
  CHECK(a.min == b.min);
  CHECK(a.max == b.max);
  CHECK(a.p05 == b.p05);
  CHECK(a.median == b.median);
  CHECK(a.p95 == b.p95);
}

// By hand: 10 for 1 s, 20 for 3 s, 40 for the last interval of 1 s.
TEST_CASE("channel summary: a reading counts until the next") {
  const ChannelFigures f = summary_of({{0, 10}, {1, 20}, {4, 40}});
  CHECK(f.samples == 3);
  CHECK(f.mean == Approx((10.0 + 60.0 + 40.0) / 5.0));
  CHECK(f.sd == Approx(std::sqrt((144.0 + 3 * 4.0 + 324.0) / 5.0)));
  CHECK(f.min == 10.0);
  CHECK(f.max == 40.0);
  CHECK(f.p05 == 10.0);
  CHECK(f.median == 20.0);
  CHECK(f.p95 == 40.0);
}

TEST_CASE("channel summary: before a gap a reading counts five intervals") {
  std::vector<At> readings;
  for (int i = 0; i < 50; ++i) readings.push_back({1.0 * i, 10.0});
  readings.push_back({50.0, 70.0});
  readings.push_back({5000.0, 10.0});
  const ChannelFigures f = summary_of(readings);
  CHECK(f.mean == Approx((51 * 10.0 + 5 * 70.0) / 56.0));
}

TEST_CASE("channel summary: one reading is all figures") {
  const ChannelFigures f = summary_of({{12, 3.5}});
  CHECK(f.samples == 1);
  for (const double x : {f.mean, f.min, f.p05, f.median, f.p95, f.max}) {
    CHECK(x == 3.5);
  }
  CHECK(f.sd == 0.0);
}

TEST_CASE("channel summary: a slow channel has an interval of its own") {
  std::vector<At> readings;
  for (int i = 0; i < 40; ++i) readings.push_back({30.0 * i, i % 7 + 1.0});
  check_same(summary_of(readings), the_long_way(readings));
}

TEST_CASE("channel summary: irregular readings as the long way has them") {
  for (const unsigned seed : {1U, 2U, 3U, 4U, 5U}) {
    INFO(seed);
    std::mt19937 engine(seed);
    std::normal_distribution<double> noise(400.0, 3.0);
    std::uniform_real_distribution<double> u(0.0, 1.0);
    std::vector<At> readings;
    double t = 0.0;
    for (int i = 0; i < 3000; ++i) {
      t += u(engine) < 0.02 ? 60.0 * u(engine) + 0.1
                            : std::round(10.0 + 20.0 * u(engine)) / 10.0;
      t = std::round(t * 1000.0) / 1000.0;
      readings.push_back({t, std::round(noise(engine) * 10.0) / 10.0});
    }
    check_same(summary_of(readings), the_long_way(readings));
  }
}

TEST_CASE("channel summary: the interval that changes is settled at the end") {
  // A minute in tenths of a second, then hours every 10 s: the median is 10 s.
  std::vector<At> readings;
  for (int i = 0; i < 600; ++i) readings.push_back({0.1 * i, 5.0});
  for (int i = 0; i < 2000; ++i) readings.push_back({60.0 + 10.0 * i, 9.0});
  check_same(summary_of(readings), the_long_way(readings));
}

// The five intervals are those of the whole run, also for readings that came
// while the intervals were still longer.
TEST_CASE("channel summary: slow at first") {
  std::vector<At> slow_first;
  for (int i = 0; i < 100; ++i) slow_first.push_back({10.0 * i, 5.0});
  for (int i = 0; i < 9000; ++i) slow_first.push_back({1000.0 + 0.1 * i, 9.0});
  check_same(summary_of(slow_first), the_long_way(slow_first));
}

// In blocks, of which some are even and some are not: the same to the last bit.
TEST_CASE("channel summary: many at a time as one by one") {
  std::mt19937 engine(11);
  std::normal_distribution<double> noise(60.0, 0.2);
  std::uniform_int_distribution<std::size_t> size(1, 300);
  const double digits = GENERATE(10.0, 1e9);  // few different values, and many
  ChannelSummary by_blocks;
  ChannelSummary one_by_one;
  TimeMs t{0};
  for (int block = 0; block < 100; ++block) {
    const DurationMs step{block % 7 == 0 ? 2500 : 1000};
    const bool even = block % 5 != 0;
    std::vector<TimeMs> at;
    std::vector<double> x;
    for (std::size_t k = size(engine); k > 0; --k) {
      t = t + (even ? step : DurationMs{900 + static_cast<int>(k % 3) * 50});
      at.push_back(t);
      x.push_back(std::round(noise(engine) * digits) / digits);
      one_by_one.add(at.back(), x.back());
    }
    by_blocks.add(at, x, even && at.size() > 1 ? step : DurationMs{0});
  }
  const ChannelFigures a = by_blocks.finish();
  const ChannelFigures b = one_by_one.finish();
  CHECK(a.samples == b.samples);
  CHECK(a.mean == b.mean);
  CHECK(a.sd == b.sd);
  CHECK(a.p05 == b.p05);
  CHECK(a.median == b.median);
  CHECK(a.p95 == b.p95);
}

TEST_CASE("channel summary: what does not count ends the reading before it") {
  // On load to 10 s, then another phase to 100 s, then on load again.
  ChannelSummary summary;
  for (int i = 0; i <= 9; ++i) summary.add(TimeMs{i * 1000}, 1.0);
  for (int i = 10; i < 100; ++i) summary.touch(TimeMs{i * 1000});
  for (int i = 100; i <= 109; ++i) summary.add(TimeMs{i * 1000}, 3.0);
  const ChannelFigures f = summary.finish();
  CHECK(f.samples == 20);
  CHECK(f.mean == Approx(2.0));
}

// A running sum of squares loses this: 400 V with 1 mV of ripple, two million
// readings.
TEST_CASE("channel summary: a small spread on a large mean, for long") {
  ChannelSummary summary;
  for (int i = 0; i < 2'000'000; ++i) {
    summary.add(TimeMs{i * 100}, 400.0 + (i % 2 == 0 ? 0.001 : -0.001));
  }
  const ChannelFigures f = summary.finish();
  CHECK(f.mean == Approx(400.0).margin(1e-6));
  CHECK(f.sd == Approx(0.001).epsilon(1e-3));
}

}  // namespace
}  // namespace telltale::host
