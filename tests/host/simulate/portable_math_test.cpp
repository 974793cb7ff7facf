// The model's own functions against those of the C library, which is the
// outside reference here (glibc documents errors below 2 units in the last
// place for these).
#include "simulate/portable_math.hpp"

#include <cmath>

#include "catch.hpp"

namespace telltale::host::sim {
namespace {

TEST_CASE("e^x and ln x agree with the C library") {
  for (double x = -40.0; x <= 40.0; x += 0.37) {
    CHECK(exp_of(x) == Approx(std::exp(x)).epsilon(1e-14));
  }
  for (double x = 1e-9; x < 1e9; x *= 1.7) {
    CHECK(log_of(x) == Approx(std::log(x)).epsilon(1e-14).margin(1e-15));
  }
  CHECK(exp_of(0.0) == 1.0);
  CHECK(log_of(1.0) == 0.0);
  CHECK(exp_of(-1000.0) == 0.0);
}

TEST_CASE("the sine of turns agrees with the C library") {
  for (double x = -3.0; x <= 3.0; x += 0.0137) {
    CHECK(sin_turns(x) ==
          Approx(std::sin(2.0 * 3.14159265358979323846 * x)).margin(1e-13));
  }
}

TEST_CASE("powers agree with the C library") {
  for (double base : {0.001, 0.3, 1.0, 1.7, 40.0}) {
    for (double exponent : {-2.5, -1.0, 0.0, 0.7, 3.0}) {
      CHECK(pow_of(base, exponent) ==
            Approx(std::pow(base, exponent)).epsilon(1e-13));
    }
  }
}

TEST_CASE("a lag never passes its target, however long the step") {
  CHECK(lag(1.0, 5.0, 1e9, 3.0) == Approx(5.0));
  CHECK(lag(1.0, 5.0, 1.0, 0.0) == 5.0);
  CHECK(lag(1.0, 5.0, 0.0, 3.0) == 1.0);
  // For short steps it is the exponential: 1 - 1/e after one time constant.
  double value = 0.0;
  for (int i = 0; i < 10000; ++i) value = lag(value, 1.0, 1e-4, 1.0);
  CHECK(value == Approx(1.0 - std::exp(-1.0)).margin(1e-4));
}

}  // namespace
}  // namespace telltale::host::sim
