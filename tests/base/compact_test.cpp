// Compact: a number itself in double, within half a step of it in single.
#include "telltale/base/compact.hpp"

#include <cmath>

#include "catch.hpp"

namespace telltale {
namespace {

TEST_CASE("compact: on the host nothing is lost") {
  for (double x = -1e6; x < 1e6; x += 12345.678901) {
    CHECK(double{Compact<double, HertzRange>(x)} == x);
  }
  STATIC_REQUIRE(sizeof(Compact<double, HertzRange>) == sizeof(double));
}

TEST_CASE("compact: on the box two bytes and half a step") {
  STATIC_REQUIRE(sizeof(Compact<float, HertzRange>) == 2);
  for (float hz = 30.0F; hz < 75.0F; hz += 0.0137F) {
    CHECK(std::abs(Compact<float, HertzRange>(hz) - hz) < 0.00036F);
  }
  for (float celsius = -60.0F; celsius < 750.0F; celsius += 0.37F) {
    CHECK(std::abs(Compact<float, CelsiusRange>(celsius) - celsius) < 0.0064F);
  }
}

TEST_CASE("compact: ordered as the numbers are") {
  using Hertz = Compact<float, HertzRange>;
  CHECK(Hertz(49.9F) < Hertz(50.0F));
  CHECK_FALSE(Hertz(50.0F) < Hertz(50.0F));
  CHECK_FALSE(Hertz(50.1F) < Hertz(50.0F));
}

}  // namespace
}  // namespace telltale
