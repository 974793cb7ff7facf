#include "ingest/unit_text.hpp"

#include "catch.hpp"

namespace telltale::host {
namespace {

TEST_CASE("units are known in the spellings of headers and cells") {
  struct Case {
    const char* text;
    LogUnit unit;
  };
  for (const Case& c : {Case{"psi", LogUnit::psi},
                        Case{"PSI", LogUnit::psi},
                        Case{"psig", LogUnit::psi},
                        Case{"lb/in\xC2\xB2", LogUnit::psi},
                        Case{"kPa", LogUnit::kPa},
                        Case{"KPA", LogUnit::kPa},
                        Case{"bar", LogUnit::bar},
                        Case{"bar (g)", LogUnit::bar},
                        Case{"mbar", LogUnit::mbar},
                        Case{"hPa", LogUnit::mbar},
                        Case{"MPa", LogUnit::MPa},
                        Case{"in Hg", LogUnit::inHg},
                        Case{"\xC2\xB0"
                             "C",
                             LogUnit::degC},
                        Case{"\xC2\xBA"
                             "C",
                             LogUnit::degC},
                        Case{"deg C", LogUnit::degC},
                        Case{"degF", LogUnit::degF},
                        Case{"\xC2\xB0 F", LogUnit::degF},
                        Case{"K", LogUnit::K},
                        Case{"Celsius", LogUnit::degC},
                        Case{"rpm", LogUnit::rpm},
                        Case{"1/min", LogUnit::rpm},
                        Case{"min-1", LogUnit::rpm},
                        Case{"U/min", LogUnit::rpm},
                        Case{"rev/s", LogUnit::Hz},
                        Case{"Hz", LogUnit::Hz},
                        Case{"VAC", LogUnit::V},
                        Case{"mV", LogUnit::mV},
                        Case{"kV", LogUnit::kV},
                        Case{"A", LogUnit::A},
                        Case{"kW", LogUnit::kW},
                        Case{"W", LogUnit::W},
                        Case{"kVA", LogUnit::kVA},
                        Case{"%", LogUnit::pct},
                        Case{"L/h", LogUnit::L_h},
                        Case{"gal/h", LogUnit::gal_h},
                        Case{"GPH", LogUnit::gal_h},
                        Case{"h", LogUnit::h},
                        Case{"hrs", LogUnit::h},
                        Case{"min", LogUnit::min},
                        Case{"s", LogUnit::s},
                        Case{"hp", LogUnit::hp}}) {
    INFO(c.text);
    const auto unit = unit_of_text(c.text);
    REQUIRE(unit);
    CHECK(unit->unit == c.unit);
    CHECK(unit->scale == 1.0);
  }
}

// Factors: NIST SP 811 appendix B (technical atmosphere 98.0665 kPa; metric
// horsepower 0.73549875 kW; imperial gallon 4.54609 L); SI prefixes.
TEST_CASE("units of no name in the contract are scaled into one") {
  struct Case {
    const char* text;
    UnitText unit;
  };
  for (const Case& c :
       {Case{"Pa", {LogUnit::kPa, 0.001}},
        Case{"kgf/cm2", {LogUnit::bar, 0.980665}},
        Case{"kg/cm\xC2\xB2", {LogUnit::bar, 0.980665}},
        Case{"PS", {LogUnit::kW, 0.73549875}},
        Case{"MW", {LogUnit::kW, 1000.0}}, Case{"mW", {LogUnit::W, 0.001}},
        Case{"ms", {LogUnit::s, 0.001}}, Case{"l/min", {LogUnit::L_h, 60.0}},
        Case{"imp gal/h", {LogUnit::L_h, 4.54609}}}) {
    INFO(c.text);
    CHECK(unit_of_text(c.text) == c.unit);
  }
}

TEST_CASE("units of other quantities are units, but no channel's") {
  for (const char* text : {"kWh", "kvar", "Nm", "kn", "mm/s", "Ah"}) {
    INFO(text);
    CHECK(unit_of_text(text)->unit == LogUnit::none);
  }
}

TEST_CASE("words are no units") {
  for (const char* text : {"", "k", "oil", "volty", "x", "psi2", "degree",
                           "this is far too long to be a unit"}) {
    INFO(text);
    CHECK_FALSE(unit_of_text(text));
  }
}

}  // namespace
}  // namespace telltale::host
