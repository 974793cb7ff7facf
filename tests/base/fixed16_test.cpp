#include "telltale/base/fixed16.hpp"

#include <cmath>
#include <limits>

#include "catch.hpp"

namespace telltale {
namespace {

constexpr Fixed16::Scale kHz{35.0F, 0.0005F};

TEST_CASE("a number comes back to within half a step") {
  for (double x = 35.0; x < 67.7; x += 0.00317) {
    const Fixed16 kept(x, kHz);
    CHECK(std::abs(kept.value<double>(kHz) - x) < 0.000251);
  }
}

TEST_CASE("what lies outside the range is kept as its end") {
  CHECK(Fixed16(0.0, kHz).value<double>(kHz) == Approx(35.0));
  CHECK(Fixed16(1e9, kHz).value<double>(kHz) == Approx(35.0 + 65534 * 0.0005));
  CHECK(
      Fixed16(std::numeric_limits<float>::infinity(), kHz).value<float>(kHz) ==
      Approx(67.767F));
}

TEST_CASE("no number stays no number") {
  CHECK(std::isnan(Fixed16().value<double>(kHz)));
  CHECK(std::isnan(
      Fixed16(std::numeric_limits<float>::quiet_NaN(), kHz).value<float>(kHz)));
}

TEST_CASE("two bytes") { STATIC_REQUIRE(sizeof(Fixed16) == 2); }

}  // namespace
}  // namespace telltale
