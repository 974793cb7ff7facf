#include "support/units.hpp"

#include "catch.hpp"

namespace telltale::host {
namespace {

double canonical(double value, LogUnit from, Unit to) {
  return conversion(from, to)->to_canonical(value);
}

// Factors: GNU units 2.22 (`units -t -o '%.15g' '1 psi' kPa`), which follows
// NIST SP 811 appendix B.
TEST_CASE("pressure units convert to kilopascal by the NIST factors") {
  CHECK(canonical(1, LogUnit::psi, Unit::kPa) ==
        Approx(6.89475729316836).epsilon(1e-13));
  CHECK(canonical(1, LogUnit::bar, Unit::kPa) == 100.0);
  CHECK(canonical(1, LogUnit::mbar, Unit::kPa) == 0.1);
  CHECK(canonical(1, LogUnit::MPa, Unit::kPa) == 1000.0);
  CHECK(canonical(1, LogUnit::inHg, Unit::kPa) ==
        Approx(3.386388640341).epsilon(1e-13));
  CHECK(canonical(287.5, LogUnit::kPa, Unit::kPa) == 287.5);
}

// Fixed points of the scales; GNU units for 98.6 and 1000 degF.
TEST_CASE("temperatures convert to degrees Celsius") {
  CHECK(canonical(-40, LogUnit::degF, Unit::degC) == Approx(-40).margin(1e-10));
  CHECK(canonical(32, LogUnit::degF, Unit::degC) == Approx(0).margin(1e-10));
  CHECK(canonical(98.6, LogUnit::degF, Unit::degC) == Approx(37).margin(1e-10));
  CHECK(canonical(212, LogUnit::degF, Unit::degC) == Approx(100).margin(1e-10));
  CHECK(canonical(1000, LogUnit::degF, Unit::degC) ==
        Approx(537.777777777778).margin(1e-10));
  CHECK(canonical(298.15, LogUnit::K, Unit::degC) == Approx(25).margin(1e-10));
}

// GNU units 2.22 for horsepower; US gallon exact (SP 811).
TEST_CASE("power, flow, rotation and time convert") {
  CHECK(canonical(1, LogUnit::hp, Unit::kW) ==
        Approx(0.74569987158227).epsilon(1e-13));
  CHECK(canonical(1, LogUnit::gal_h, Unit::L_h) == 3.785411784);
  CHECK(canonical(30, LogUnit::Hz, Unit::rpm) == 1800.0);
  CHECK(canonical(1800, LogUnit::rpm, Unit::Hz) == Approx(30).epsilon(1e-15));
  CHECK(canonical(5400, LogUnit::s, Unit::h) == Approx(1.5).epsilon(1e-15));
  CHECK(canonical(0.93, LogUnit::one, Unit::pct) == Approx(93).epsilon(1e-15));
  CHECK(canonical(1500, LogUnit::mV, Unit::V) == Approx(1.5).epsilon(1e-15));
}

TEST_CASE("a unit never converts across quantities") {
  CHECK_FALSE(conversion(LogUnit::psi, Unit::degC));
  CHECK_FALSE(conversion(LogUnit::none, Unit::kPa));
  CHECK_FALSE(conversion(LogUnit::gal, Unit::L_h));
}

TEST_CASE("there and back again is within two units in the last place") {
  for (LogUnit unit : {LogUnit::psi, LogUnit::bar, LogUnit::inHg}) {
    const Conversion c = *conversion(unit, Unit::kPa);
    for (double value : {0.1, 14.5, 41.0, 58.7}) {
      CHECK(c.from_canonical(c.to_canonical(value)) ==
            Approx(value).epsilon(4.5e-16));
    }
  }
}

TEST_CASE("every unit name is found again") {
  for (auto name :
       {"degC", "degF", "K", "kPa", "bar", "psi", "MPa",   "mbar", "inHg", "V",
        "mV",   "kV",   "A", "mA",  "kW",  "W",   "hp",    "kVA",  "%",    "1",
        "Hz",   "rpm",  "h", "min", "s",   "L/h", "gal/h", "L",    "gal"}) {
    REQUIRE(log_unit_named(name));
    CHECK(name_of(*log_unit_named(name)) == name);
  }
  CHECK_FALSE(log_unit_named("furlong"));
  CHECK_FALSE(log_unit_named(""));
}

}  // namespace
}  // namespace telltale::host
