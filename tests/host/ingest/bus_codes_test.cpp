#include "ingest/bus_codes.hpp"

#include <cmath>

#include "catch.hpp"

namespace telltale::host {
namespace {

using enum Channel;

// SAE J1939-71: raw 0xFF, 0xFE and the reserved codes from 0xFB up, times the
// parameter's scale plus offset; NMEA 2000: field maxima. Values as in the
// project's reference tables 13A and 13D.
TEST_CASE("codes of the buses are known after scaling") {
  CHECK(is_bus_code(engine_speed, 8191.875, 8191.875));
  CHECK(is_bus_code(engine_speed, 8128.0, 8128.0));
  CHECK(is_bus_code(engine_speed, 16383.75, 16383.75));
  CHECK(is_bus_code(oil_pressure, 1020, 1020));
  CHECK(is_bus_code(oil_pressure, 1016, 1016));
  CHECK(is_bus_code(oil_pressure, 147.9 * 6.894757, 147.9));  // in psi, rounded
  CHECK(is_bus_code(oil_pressure, 6553.5, 6553.5));
  CHECK(is_bus_code(coolant_temperature, 215, 215));
  CHECK(is_bus_code(coolant_temperature, 215, 419));  // in degF
  CHECK(is_bus_code(coolant_temperature, 210, 210));  // clamped
  CHECK(is_bus_code(coolant_temperature, 382.2, 655.35));
  CHECK(is_bus_code(oil_temperature, 1774.97, 1774.97));
  CHECK(is_bus_code(battery_voltage, 3276.75, 3276.75));
  CHECK(is_bus_code(battery_voltage, 327.67, 327.67));
  CHECK(is_bus_code(frequency, 511.992, 511.992));
  CHECK(is_bus_code(voltage_line, 65535, 65535));
  CHECK(is_bus_code(load, 255, 255));
  CHECK(is_bus_code(fuel_level, 102, 102));
  CHECK(is_bus_code(fuel_rate, 3276.75, 3276.75));
  CHECK(is_bus_code(engine_hours, 214748364.75, 214748364.75));
  CHECK(is_bus_code(engine_hours, 1193046.5, 4294967295.0));
  CHECK(is_bus_code(power_factor, 3.0, 3.0));
  CHECK(is_bus_code(coolant_temperature, -40, -40));
  CHECK(is_bus_code(coolant_temperature, -40, -40 * 1.8 + 32));
}

TEST_CASE("ordinary readings are no codes") {
  CHECK_FALSE(is_bus_code(oil_pressure, 255, 255));
  CHECK_FALSE(is_bus_code(coolant_temperature, 82, 82));
  CHECK_FALSE(is_bus_code(load, 100, 100));
  CHECK_FALSE(is_bus_code(engine_speed, 3600, 3600));
  CHECK_FALSE(is_bus_code(exhaust_temperature, 255, 255));
  CHECK_FALSE(is_bus_code(ambient_temperature, -39, -39));
  CHECK_FALSE(is_bus_code(fuel_level, 100, 100));
}

// Contract section 3: only by a jump that the channel can't make, or where
// the channel can't have the value at all, or where it never has another.
TEST_CASE("a code counts by how it is reached") {
  CodeFilter fuel(fuel_level, false, 98);
  CHECK_FALSE(fuel.refuses(99, 99));
  CHECK_FALSE(fuel.refuses(101, 101));  // brim-full: reached step by step
  CHECK_FALSE(fuel.refuses(102, 102));
  CodeFilter half_full(fuel_level, false, 50);
  CHECK(half_full.refuses(102, 102));
  CHECK_FALSE(half_full.refuses(50, 50));

  CodeFilter oil(oil_pressure, false, 340);
  CHECK_FALSE(oil.refuses(255, 255));
  CHECK(oil.refuses(1020, 1020));
  CHECK(oil.refuses(1020, 1020));  // still compared with the last good one
  CHECK_FALSE(oil.refuses(341, 341));

  CodeFilter arctic(ambient_temperature, false, -38);
  CHECK_FALSE(arctic.refuses(-40, -40));
  CodeFilter tropics(ambient_temperature, false, 31);
  CHECK(tropics.refuses(-40, -40));
}

TEST_CASE("values that no engine has are refused only if they are codes") {
  CodeFilter coolant(coolant_temperature, false, 82);
  CHECK(coolant.refuses(215, 215));
  CHECK_FALSE(coolant.refuses(180, 180));  // broken, but no code: for a check
}

TEST_CASE("a column of nothing but one code is empty") {
  CodeFilter stuck(ambient_temperature, true, std::nan(""));
  CHECK(stuck.refuses(-40, -40));
  CodeFilter unknown(ambient_temperature, false, std::nan(""));
  CHECK_FALSE(unknown.refuses(-40, -40));
}

}  // namespace
}  // namespace telltale::host
