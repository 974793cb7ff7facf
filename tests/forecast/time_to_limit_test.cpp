// TimeToLimit: closed cases, and coverage by repetition.
#include "telltale/forecast/time_to_limit.hpp"

#include <cmath>
#include <random>

#include "catch.hpp"

namespace telltale {
namespace {

constexpr double kQuantile = 1.959963984540054;
using Line = LineState<double>;

TEST_CASE("a line known for sure reaches its limit at one time") {
  const auto time = time_to_limit(Line{0, 300, 0, -2, 0}, 200.0, 10.0, 1.96);
  CHECK(time.best == Approx(40.0));
  CHECK(time.low == Approx(40.0));
  CHECK(time.high == Approx(40.0));
}

// Fieller: the ends are where the limit lies on the edge of the band.
TEST_CASE("the ends lie on the edges of the band") {
  const Line line{50, 300, 2, -2, 0.2};
  const auto time = time_to_limit(line, 180.0, 60.0, kQuantile);
  CHECK(time.low < time.best);
  CHECK(time.best < time.high);
  for (const double after : {time.low, time.high}) {
    const double t = 60.0 + after;
    CHECK(std::abs(180.0 - line.at(t)) ==
          Approx(kQuantile * line.se_at(t)).epsilon(1e-9));
  }
}

TEST_CASE("a slope that may be none has no latest time") {
  const auto time =
      time_to_limit(Line{50, 300, 2, -0.2, 0.2}, 250.0, 60.0, kQuantile);
  CHECK(std::isinf(time.high));
  CHECK(time.low > 0.0);
  CHECK(time.low < time.best);
}

TEST_CASE("a line that leads away never arrives") {
  const auto time =
      time_to_limit(Line{50, 300, 1, 2, 0.1}, 200.0, 60.0, kQuantile);
  CHECK(std::isinf(time.best));
  CHECK(std::isinf(time.low));
}

// Least squares of 40 points, sigma known: the interval must hold the true
// time in 95 % of series. 2,000 series have a standard error of 0.5 %.
TEST_CASE("intervals hold the true time as often as they promise") {
  std::mt19937_64 engine(3);
  const auto uniform = [&] {
    return (static_cast<double>(engine() >> 11U) + 0.5) * 0x1.0p-53;
  };
  constexpr int kPoints = 40;
  constexpr int kSeries = 2000;
  constexpr double kMiddle = (kPoints - 1) / 2.0;
  constexpr double kSxx = kPoints * (kPoints * kPoints - 1) / 12.0;
  int covered = 0;
  for (int s = 0; s < kSeries; ++s) {
    double level = 0.0;
    double slope = 0.0;
    for (int i = 0; i < kPoints; ++i) {
      const double e = std::sqrt(-2.0 * std::log(uniform())) *
                       std::cos(6.283185307179586 * uniform());
      const double y = 100.0 - 0.5 * i + 2.0 * e;
      level += y / kPoints;
      slope += (i - kMiddle) * y / kSxx;
    }
    const Line line{kMiddle, level, 2.0 / std::sqrt(double{kPoints}), slope,
                    2.0 / std::sqrt(kSxx)};
    const auto time = time_to_limit(line, 60.0, 39.0, kQuantile);
    covered += time.low <= 41.0 && 41.0 <= time.high ? 1 : 0;
  }
  CHECK(covered >= 0.93 * kSeries);
  CHECK(covered <= 0.97 * kSeries);
}

}  // namespace
}  // namespace telltale
