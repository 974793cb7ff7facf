// Real recordings, kept outside the repository: TELLTALE_REAL_DATA names their
// folder. Without it the cases say so and are skipped.
#include <algorithm>
#include <cstdlib>
#include <optional>
#include <string>

#include "catch.hpp"
#include "read_log.hpp"

namespace telltale::host {
namespace {

std::optional<std::string> real(const std::string& name) {
  const char* folder = std::getenv("TELLTALE_REAL_DATA");
  const std::string path = (folder != nullptr ? folder : "") + ("/" + name);
  const std::string bytes = folder != nullptr ? test::slurp(path) : "";
  if (bytes.empty()) {
    WARN("skipped: TELLTALE_REAL_DATA holds no " << name);
    return std::nullopt;
  }
  return bytes;
}

// acep-uaf/MiGRIDS, MIT: one row a minute, 98 headers, the first on line 36.
TEST_CASE("a village's diesel plant over three days") {
  const auto bytes = real("real-02-village-diesel-plant-3days.csv");
  if (!bytes) return;
  const auto read = test::read_log(*bytes);
  CHECK(read.layout.header_line == 36);
  CHECK(read.layout.time_format == "MM-DD-YYYY and hh:mm:ss, no zone");
  CHECK(read.layout.interval_s == 60);
  CHECK(read.rows.size() == 4019 - 98);
  CHECK(read.tally.rejected == 0);
  double low = 1e9;
  double high = 0;
  for (std::size_t i = 0; i < read.rows.size(); ++i) {
    const double hz = read.value(i, Channel::frequency);
    CHECK(hz >= 59.8);
    CHECK(hz <= 60.27);
    low = std::min(low, read.value(i, Channel::power));
    high = std::max(high, read.value(i, Channel::power));
    CHECK(read.rows[i].clock == ClockEvent::none);
    CHECK(read.rows[i].alarms == 0);
  }
  CHECK(low > 60);
  CHECK(high < 500);
}

// hairyone/TD5Tester, Apache-2.0: no header, raw units.
TEST_CASE("a diesel's raw values are refused without a map, read with one") {
  const auto bytes = real("real-14-diesel-headerless-raw-units.csv");
  if (!bytes) return;
  CHECK(test::open_error(*bytes).what.find("no header") != std::string::npos);
  const test::TempFile map(R"toml(header_line = 0
time = { column = 1, format = "%Y-%m-%d %H:%M:%S" }
[[column]]
index = 2
channel = "engine_speed"
unit = "rpm"
[[column]]
index = 3
channel = "battery_voltage"
unit = "mV"
[[column]]
index = 5
channel = "coolant_temperature"
unit = "degC"
scale = 0.1
offset = -273.2
)toml",
                           ".toml");
  ReadOptions options;
  options.map_path = map.path();
  const auto read = test::read_log(*bytes, options);
  CHECK(read.rows.size() == 273);
  for (std::size_t i = 0; i < read.rows.size(); ++i) {
    CHECK(read.value(i, Channel::engine_speed) > 500);
    CHECK(read.value(i, Channel::battery_voltage) >= 13.98);
    CHECK(read.value(i, Channel::battery_voltage) <= 14.70);
    CHECK(read.value(i, Channel::coolant_temperature) >= 54.1);
    CHECK(read.value(i, Channel::coolant_temperature) <= 69.3);
  }
}

// lkev/wtphm, GPL-3.0: on and off times.
TEST_CASE("a turbine's alarm journal is named as what it is") {
  const auto bytes = real("real-24-turbine-alarm-journal-on-off.csv");
  if (!bytes) return;
  CHECK(test::open_error(*bytes).what.find("event list") != std::string::npos);
}

// adamdsmith/r4streams, CC0: byte-order mark, title, quoted header.
TEST_CASE("a temperature logger's export") {
  const auto bytes = real("real-26-temperature-logger-bom-12h-clock.csv");
  if (!bytes) return;
  const auto read = test::read_log(*bytes);
  CHECK(read.layout.header_line == 2);
  CHECK(read.layout.time_format == "MM/DD/YY hh:mm:ss AM/PM, zone -05:00");
  CHECK(read.tally.rejected == 0);
  CHECK(format_time(read.rows.front().logged, read.layout) ==
        "2016-10-09T05:00:00Z");
  // A stream's temperature is no engine's.
  for (const Row& row : read.rows) CHECK(row.present == 0);
}

}  // namespace
}  // namespace telltale::host
