// The exponential average, by published charts and exact properties.
#include "telltale/condition/ewma.hpp"

#include <cmath>

#include "catch.hpp"

namespace telltale {
namespace {

DurationMs half_life(double s) {
  return {static_cast<std::int64_t>(std::lround(s * 1000 / std::log(2.0)))};
}

// "next" convention of Eckner, Algorithms for unevenly spaced time series,
// half-life 60 s, on the twelve samples of the window test.
TEST_CASE("irregular samples weigh the step that led to them") {
  const int t[] = {0, 10, 25, 60, 61, 120, 121, 185, 240, 300, 301, 361};
  const double v[] = {80, 82, 81, 85, 84.5, 90, 88, 79, 83.5, 86, 87.5, 92};
  const double expected[] = {80,           80.218202564, 80.342589338,
                             81.891551316, 81.921511904, 85.913822197,
                             85.937783993, 82.312242398, 82.870807328,
                             84.435403664, 84.470603555, 88.235301777};
  Ewma<double> ewma(half_life(60));
  for (int i = 0; i < 12; ++i) {
    ewma.add(TimeMs{t[i] * 1000LL}, v[i]);
    // The time constant is kept in whole milliseconds.
    CHECK(ewma.value() == Approx(expected[i]).epsilon(1e-6));
  }
}

// NIST/SEMATECH e-Handbook 6.3.2.4: lambda 0.3, start 50, printed to 2 places.
TEST_CASE("the handbook's EWMA chart comes out") {
  const double x[] = {52.0, 47.0, 53.0, 49.3, 50.1, 47.0, 51.0,
                      50.1, 51.2, 50.5, 49.6, 47.6, 49.9, 51.3,
                      47.8, 51.2, 52.6, 52.4, 53.6, 52.1};
  const double z[] = {50.60, 49.52, 50.56, 50.18, 50.16, 49.21, 49.75,
                      49.85, 50.26, 50.33, 50.11, 49.36, 49.52, 50.05,
                      49.38, 49.92, 50.73, 51.23, 51.94, 51.99};
  // lambda = 1 - exp(-1 / tau) at one sample a day: room for exact weights.
  const DurationMs day = hours(24);
  const auto tau = static_cast<std::int64_t>(
      std::lround(-static_cast<double>(day.ms) / std::log(0.7)));
  Ewma<double> ewma(DurationMs{tau});
  ewma.add(TimeMs{0}, 50.0);
  for (int i = 0; i < 20; ++i) {
    ewma.add(TimeMs{day.ms * (i + 1)}, x[i]);
    CHECK(ewma.value() == Approx(z[i]).margin(0.005001));
  }
  CHECK(ewma.value() == Approx(51.988243).margin(1e-5));
}

TEST_CASE("a unit step is 1 - 2^(-t / half-life) at any sampling") {
  Ewma<double> ewma(half_life(30));
  ewma.add(TimeMs{0}, 0.0);
  std::int64_t t = 0;
  for (const std::int64_t step : {700, 1300, 20, 9000, 61000, 5}) {
    t += step;
    ewma.add(TimeMs{t}, 1.0);
    const double exact = 1 - std::exp2(-static_cast<double>(t) / 30000);
    CHECK(ewma.value() == Approx(exact).epsilon(1e-5));
  }
}

}  // namespace
}  // namespace telltale
