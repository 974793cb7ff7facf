// Rolling statistics against pandas 1.5.3 (closed = right), whose numbers the
// tables below hold; SQLite and R slider agree on the shared rows.
#include "telltale/condition/window.hpp"

#include <cmath>
#include <random>
#include <vector>

#include "catch.hpp"

namespace telltale {
namespace {

constexpr double kNone = -1;  // pandas prints NaN there

struct Row {
  int t;
  double v;
  std::size_t n;
  double mean, sd, min, max, median, q25;
};
// pandas: s.rolling('60s').agg([...]); sd with divisor n - 1, type 7 quantile.
const Row kTwelve[] = {
    {0, 80, 1, 80, kNone, 80, 80, 80, 80},
    {10, 82, 2, 81, 1.4142135623731, 80, 82, 81, 80.5},
    {25, 81, 3, 81, 1, 80, 82, 81, 80.5},
    {60, 85, 3, 82.6666666666667, 2.0816659994661, 81, 85, 82, 81.5},
    {61, 84.5, 4, 83.125, 1.9311050377094, 81, 85, 83.25, 81.75},
    {120, 90, 2, 87.25, 3.8890872965260, 84.5, 90, 87.25, 85.875},
    {121, 88, 2, 89, 1.4142135623731, 88, 90, 89, 88.5},
    {185, 79, 1, 79, kNone, 79, 79, 79, 79},
    {240, 83.5, 2, 81.25, 3.1819805153395, 79, 83.5, 81.25, 80.125},
    {300, 86, 1, 86, kNone, 86, 86, 86, 86},
    {301, 87.5, 2, 86.75, 1.0606601717798, 86, 87.5, 86.75, 86.375},
    {361, 92, 1, 92, kNone, 92, 92, 92, 92},
};

TEST_CASE("a 60 s window over twelve irregular samples equals pandas") {
  // 2024-02-28T23:58:00Z: the window crosses a leap-day midnight.
  const TimeMs start{1709164680000};
  TimeWindow<double, 16> window(seconds(60));
  for (const Row& row : kTwelve) {
    window.add(start + seconds(row.t), row.v);
    INFO("t = " << row.t);
    CHECK(window.count() == row.n);
    CHECK(window.mean() == Approx(row.mean).epsilon(1e-12));
    CHECK(window.min() == row.min);
    CHECK(window.max() == row.max);
    CHECK(window.median() == Approx(row.median).epsilon(1e-12));
    CHECK(window.quantile(0.25) == Approx(row.q25).epsilon(1e-12));
    if (row.sd == kNone) {
      CHECK(std::isnan(window.sd()));
    } else {
      CHECK(window.sd() == Approx(row.sd).epsilon(1e-10));
    }
  }
  CHECK_FALSE(window.truncated());
}

// The generator of the reference run: mt19937 with its default seed, whose
// 10000th output the C++ standard gives as 4123659995.
struct Generated {
  std::vector<TimeMs> at;
  std::vector<double> v;
};
Generated ten_thousand() {
  Generated out;
  std::mt19937 g;
  std::int64_t t = 0;
  for (int i = 0; i < 10000; ++i) {
    const auto a = static_cast<std::uint32_t>(g());
    const auto b = static_cast<std::uint32_t>(g());
    t += 1 + (a >> 28);
    out.at.push_back(TimeMs{t * 1000});
    out.v.push_back(80 + 10 * (static_cast<double>(b) / 4294967296.0));
  }
  return out;
}

TEST_CASE("a 300 s window over ten thousand samples equals pandas") {
  const Generated data = ten_thousand();
  REQUIRE(data.at.front().ms == 14000);
  REQUIRE(data.v.front() == 81.35477004107088);
  REQUIRE(data.at.back().ms == 84970000);
  TimeWindow<double, 64> window(seconds(300));
  double n = 0, mean = 0, sd = 0, low = 0, high = 0, median = 0, q95 = 0;
  for (std::size_t i = 0; i < data.v.size(); ++i) {
    window.add(data.at[i], data.v[i]);
    n += static_cast<double>(window.count());
    mean += window.mean();
    if (window.count() > 1) sd += window.sd();
    low += window.min();
    high += window.max();
    median += window.median();
    q95 += window.quantile(0.95);
    if (i == 4999) {
      CHECK(window.count() == 32);
      CHECK(window.mean() == Approx(86.0620826700324).epsilon(1e-10));
      CHECK(window.sd() == Approx(2.837347999995).epsilon(1e-10));
      CHECK(window.median() == Approx(86.39019463327713).epsilon(1e-10));
    }
  }
  CHECK(n == 358351);
  CHECK(mean == Approx(849787.0017681005).epsilon(1e-9));
  CHECK(sd == Approx(28868.309734193303).epsilon(1e-9));
  CHECK(low == Approx(802694.9155001482).epsilon(1e-9));
  CHECK(high == Approx(897299.9727859348).epsilon(1e-9));
  CHECK(median == Approx(850217.0997575473).epsilon(1e-9));
  CHECK(q95 == Approx(892477.1339730597).epsilon(1e-9));
}

// Exact: sqrt(1000 * 0.01 / 999). Running sums lose it altogether at 1e7
// (0.1079 and 0, see the reference run); the moving origin must not.
TEST_CASE("a large offset does not eat the spread of a rolling window") {
  for (const double base : {1e6, 1e7}) {
    TimeWindow<double, 1000> window(hours(1000));
    for (int i = 0; i < 100'000; ++i) {
      window.add(TimeMs{i * 1000LL}, base + (i % 2 == 0 ? 0.1 : 0.3));
    }
    CHECK(window.sd() == Approx(0.100050037531).epsilon(1e-8));
  }
}

TEST_CASE("single precision holds after ten million samples") {
  TimeWindow<float, 60> window(seconds(60));
  std::mt19937 g;
  double worst = 0;
  std::vector<double> recent;
  for (int i = 0; i < 10'000'000; ++i) {
    const float x = 400.0F + 5.0F * static_cast<float>(g()) / 4294967296.0F;
    window.add(TimeMs{i * 1000LL}, x);
    recent.push_back(x);
    if (recent.size() == 2000) recent.erase(recent.begin(), recent.end() - 60);
    if (i % 99991 != 0 || recent.size() < 60) continue;
    double exact = 0;
    for (std::size_t k = recent.size() - 60; k < recent.size(); ++k) {
      exact += recent[k] / 60;
    }
    worst =
        std::max(worst, std::abs(exact - static_cast<double>(window.mean())));
  }
  CHECK(worst < 5e-4);
}

TEST_CASE("slope and scatter about it follow a straight line exactly") {
  TimeWindow<double, 32> window(seconds(100));
  for (int i = 0; i < 30; ++i) {
    const int t = i * 3 + i % 2;
    window.add(TimeMs{t * 1000LL}, 20 + 0.25 * t);
  }
  CHECK(window.slope() == Approx(0.25).epsilon(1e-12));
  CHECK(window.residual_sd() == Approx(0).margin(1e-6));
}

TEST_CASE("more samples than fit are said to be cut short") {
  TimeWindow<double, 4> window(seconds(100));
  for (int i = 0; i < 6; ++i) window.add(TimeMs{i * 1000LL}, i);
  CHECK(window.truncated());
  CHECK(window.count() == 4);
  CHECK(window.mean() == Approx(3.5));
}

}  // namespace
}  // namespace telltale
