// The viscosity-temperature relation of ASTM D341 and its table.
#include "telltale/condition/viscosity.hpp"

#include <cmath>

#include "catch.hpp"
#include "telltale/condition/oil_viscosity.hpp"

namespace telltale {
namespace {

// Worked examples of two public D341 calculators, recomputed with 273.15 K.
TEST_CASE("worked examples of D341 come out") {
  const auto light = ViscosityLine<double>::through(40, 32, 100, 5.4);
  CHECK(light.a == Approx(9.530815125).epsilon(1e-9));
  CHECK(light.b == Approx(3.746578424).epsilon(1e-9));
  CHECK(light.at(80) == Approx(8.533214692).epsilon(1e-6));
  const auto heavy = ViscosityLine<double>::through(40, 404, 100, 28);
  CHECK(heavy.at(60) == Approx(132.126137570).epsilon(1e-6));
  const auto third = ViscosityLine<double>::through(40, 68, 80, 14.85);
  CHECK(third.at(100) == Approx(8.792393855).epsilon(1e-6));
}

TEST_CASE("the two given points come back exactly") {
  const auto line = ViscosityLine<double>::through(40, 105, 100, 14);
  CHECK(line.at(40) == Approx(105).epsilon(1e-12));
  CHECK(line.at(100) == Approx(14).epsilon(1e-12));
}

TEST_CASE("the table follows the relation for a 15W-40") {
  const auto line = ViscosityLine<double>::through(40, 105, 100, 14);
  for (double t = -20; t <= 155; t += 2.5) {
    INFO("at " << t << " degC");
    CHECK(log_viscosity(t) ==
          Approx(std::log10(line.at(t))).epsilon(0.004).margin(0.003));
  }
  // Outside it the ends hold.
  CHECK(log_viscosity(-60.0) == log_viscosity(-20.0));
  CHECK(log_viscosity(300.0) == Approx(log_viscosity(160.0)).margin(1e-3));
}

}  // namespace
}  // namespace telltale
