#include "simulate/set.hpp"

#include "catch.hpp"

namespace telltale::host::sim {
namespace {

// n = 120 f / p: textbook synchronous speeds.
TEST_CASE("nominal speed follows from frequency and poles") {
  CHECK(Rating{.frequency_hz = 60, .poles = 2}.speed_rpm() == 3600.0);
  CHECK(Rating{.frequency_hz = 60, .poles = 4}.speed_rpm() == 1800.0);
  CHECK(Rating{.frequency_hz = 50, .poles = 4}.speed_rpm() == 1500.0);
  CHECK(Rating{.frequency_hz = 50, .poles = 6}.speed_rpm() == 1000.0);
}

// Winding arithmetic: two 120 V windings give 240 V; 400 V is sqrt(3) times
// 230.94 V; 8 kW at 240 V are 33.3 A; 40 kW at 400 V and power factor 0.8 are
// 40000 / (sqrt(3) 400 0.8) = 72.17 A.
TEST_CASE("leg volts and rated leg amps follow from the name plate") {
  const Rating split{.power_kw = 8, .voltage_v = 240, .legs = 2};
  CHECK(split.leg_volts() == 120.0);
  CHECK(split.leg_amps() == Approx(8000.0 / 240.0));
  const Rating three{
      .power_kw = 40, .voltage_v = 400, .legs = 3, .power_factor = 0.8};
  CHECK(three.leg_volts() == Approx(230.94).margin(0.005));
  CHECK(three.leg_amps() == Approx(72.17).margin(0.005));
  const Rating single{.power_kw = 12, .voltage_v = 230, .legs = 1};
  CHECK(single.leg_volts() == 230.0);
  CHECK(single.leg_amps() == Approx(12000.0 / 230.0));
}

}  // namespace
}  // namespace telltale::host::sim
