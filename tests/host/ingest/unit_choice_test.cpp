#include "ingest/unit_choice.hpp"

#include <algorithm>
#include <cmath>
#include <vector>

#include "catch.hpp"
#include "ingest/log.hpp"
#include "temp_file.hpp"

namespace telltale::host {
namespace {

ColumnStats stats_of_values(std::vector<double> values) {
  ColumnStats stats;
  stats.cells = stats.numbers = values.size();
  stats.values = values;
  std::sort(values.begin(), values.end());
  stats.sorted = values;
  stats.integers = std::all_of(values.begin(), values.end(),
                               [](double v) { return v == std::trunc(v); });
  return stats;
}

std::optional<UnitText> unit_for(Channel channel, const char* header,
                                 std::vector<double> values,
                                 const UnitHints& hints = {}) {
  return choose_unit(channel, parse_header(header),
                     stats_of_values(std::move(values)), hints)
      .unit;
}

using enum Channel;

// The examples of contract and reference table T40: 40 psi, 4.1 bar, 280 kPa;
// 180 degF, 82 degC, 355 K.
TEST_CASE("a unit that is not given shows in the readings") {
  CHECK(unit_for(oil_pressure, "Oil", {0, 38, 40, 41})->unit == LogUnit::psi);
  CHECK(unit_for(oil_pressure, "Oil", {0, 4.0, 4.1})->unit == LogUnit::bar);
  CHECK(unit_for(oil_pressure, "Oil", {0, 280, 300})->unit == LogUnit::kPa);
  CHECK(unit_for(oil_pressure, "Oil", {0, 0.28, 0.3})->unit == LogUnit::MPa);
  CHECK(unit_for(oil_pressure, "Oil", {280000, 300000}) ==
        UnitText{LogUnit::kPa, 0.001});
  CHECK(unit_for(coolant_temperature, "Coolant", {20, 82})->unit ==
        LogUnit::degC);
  CHECK(unit_for(coolant_temperature, "Coolant", {70, 180})->unit ==
        LogUnit::degF);
  CHECK(unit_for(coolant_temperature, "Coolant", {300, 355})->unit ==
        LogUnit::K);
  CHECK(unit_for(engine_speed, "Speed", {30, 30.1})->unit == LogUnit::Hz);
  CHECK(unit_for(engine_speed, "Speed", {1800, 1810})->unit == LogUnit::rpm);
  CHECK(unit_for(battery_voltage, "Batt", {13900, 13850})->unit == LogUnit::mV);
  CHECK(unit_for(power_factor, "PF", {0.9, 0.95})->unit == LogUnit::one);
  CHECK(unit_for(power_factor, "PF", {90, 95})->unit == LogUnit::pct);
  CHECK(unit_for(load, "Load", {0.5, 0.61})->unit == LogUnit::one);
  CHECK(unit_for(load, "Load", {50, 61})->unit == LogUnit::pct);
}

TEST_CASE("what can't be decided stays open") {
  CHECK_FALSE(unit_for(exhaust_temperature, "EGT", {380, 402}));
  CHECK_FALSE(unit_for(fuel_rate, "Fuel rate", {2.1, 2.7}));
  CHECK_FALSE(unit_for(power, "Power", {7100, 7200}));
  CHECK_FALSE(unit_for(fuel_level, "Fuel", {160, 171}));
}

TEST_CASE("other columns' units help") {
  UnitHints us;
  us.temperature = LogUnit::degF;
  us.us = true;
  CHECK(unit_for(exhaust_temperature, "EGT", {380, 402}, us)->unit ==
        LogUnit::degF);
  CHECK(unit_for(fuel_rate, "Fuel rate", {0.6, 0.7}, us)->unit ==
        LogUnit::gal_h);
}

// Contract section 3: "psi, but values near 300: say so".
TEST_CASE(
    "a unit in which the readings are impossible gives way, with a note") {
  const auto choice = choose_unit(oil_pressure, parse_header("Oil (psi)"),
                                  stats_of_values({300, 301, 299, 300}), {});
  CHECK(choice.unit->unit == LogUnit::kPa);
  CHECK(choice.note.find("can't be psi") != std::string::npos);
  // Odd, but possible: the header counts.
  const auto low = choose_unit(oil_pressure, parse_header("Oil (kPa)"),
                               stats_of_values({45, 44, 45, 46}), {});
  CHECK(low.unit->unit == LogUnit::kPa);
  CHECK(low.note.empty());
  // A few broken readings change nothing.
  std::vector<double> values(40, 82);
  values.insert(values.end(), {900, 900, 900});
  CHECK(unit_for(coolant_temperature, "Coolant (C)", values)->unit ==
        LogUnit::degC);
  // A column of nothing but a code keeps its unit.
  CHECK(unit_for(coolant_temperature, "Coolant (C)", {-40, -40, -40})->unit ==
        LogUnit::degC);
}

std::vector<double> two_thirds_broken(std::vector<double> good, double stuck) {
  std::vector<double> values;
  for (int i = 0; i < 30; ++i) {
    values.push_back(good[static_cast<std::size_t>(i) % good.size()]);
  }
  values.insert(values.end(), 60, stuck);
  return values;
}

TEST_CASE("a sender that breaks later does not change the unit") {
  CHECK(unit_for(power, "Power kW", two_thirds_broken({6, 7.5, 9}, 61000))
            ->unit == LogUnit::kW);
  CHECK(unit_for(battery_voltage, "Batt V",
                 two_thirds_broken({13.9, 14.1}, 61000))
            ->unit == LogUnit::V);
  CHECK(unit_for(oil_pressure, "Oil (psi)", two_thirds_broken({44, 47}, 400))
            ->unit == LogUnit::psi);
  // No unit given: kelvin would make the good first part impossible.
  CHECK(unit_for(coolant_temperature, "Coolant",
                 two_thirds_broken({79, 80, 81}, 370))
            ->unit == LogUnit::degC);
  CHECK(unit_for(coolant_temperature, "Coolant",
                 two_thirds_broken({175, 180}, 700))
            ->unit == LogUnit::degF);
}

// The column that breaks stands first, and is high when the others are at
// their usual level: the frequency tells when the set runs.
TEST_CASE("a broken sender does not decide when the set runs") {
  std::string text = "t,Volts L-L (V),Hz\n";
  for (int s = 0; s < 300; ++s) {
    const bool runs = s >= 30;
    const char* volts = !runs ? "0" : s < 160 ? "239" : "2040";
    text += std::to_string(s) + ',' + volts + (runs ? ",60.0\n" : ",0.0\n");
  }
  const test::TempFile file(text);
  const auto log = Log::open(file.path(), {});
  REQUIRE(log);
  CHECK(log->layout().columns.at(1).name == "voltage_line");
}

// A set warming up in degrees Fahrenheit under a header that says Celsius: a
// part of the readings is possible, but there is no hole between it and the
// rest.
TEST_CASE("a wrong unit shows by readings that pass the possible evenly") {
  std::vector<double> values;
  for (int i = 0; i < 100; ++i) values.push_back(std::min(120 + 4 * i, 180));
  const auto choice =
      choose_unit(coolant_temperature, parse_header("Coolant (C)"),
                  stats_of_values(values), {});
  CHECK(choice.unit->unit == LogUnit::degF);
  CHECK_FALSE(choice.note.empty());
}

}  // namespace
}  // namespace telltale::host
