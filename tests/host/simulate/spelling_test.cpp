#include "simulate/spelling.hpp"

#include <cmath>
#include <set>
#include <string>

#include "catch.hpp"

namespace telltale::host::sim {
namespace {

SensorSpec sensor(Channel channel, LogUnit unit) {
  SensorSpec spec;
  spec.channel = channel;
  spec.unit = unit;
  return spec;
}

TEST_CASE("headers name channel and unit in each style") {
  using enum HeaderStyle;
  const SensorSpec oil = sensor(Channel::oil_pressure, LogUnit::psi);
  CHECK(header_of(oil, words) == "Oil Pressure (psi)");
  CHECK(header_of(oil, brackets) == "Oil Pressure [psi]");
  CHECK(header_of(oil, shorthand) == "Oil Press psi");
  CHECK(header_of(oil, snake) == "oil_pressure_psi");
  CHECK(header_of(oil, bare) == "oil_pressure");
  const SensorSpec coolant =
      sensor(Channel::coolant_temperature, LogUnit::degF);
  CHECK(header_of(coolant, words) == "Coolant Temperature (°F)");
  CHECK(header_of(coolant, snake) == "coolant_temperature_degf");
  CHECK(header_of(sensor(Channel::fuel_rate, LogUnit::L_h), snake) ==
        "fuel_rate_l_h");
  CHECK(header_of(sensor(Channel::start_count, LogUnit::one), words) ==
        "Starts");
}

TEST_CASE("no two channels share a header in any style") {
  for (HeaderStyle style :
       {HeaderStyle::words, HeaderStyle::brackets, HeaderStyle::shorthand,
        HeaderStyle::snake, HeaderStyle::bare}) {
    std::set<std::string> headers;
    for (const ChannelInfo& info : kChannels) {
      headers.insert(
          header_of(sensor(info.channel, as_log_unit(info.unit)), style));
    }
    CHECK(headers.size() == kChannelCount);
  }
}

// SAE J1939-71: "not available" is the highest raw value; after scaling, 4 kPa
// a bit give 1020 kPa, 1 K a bit from -40 give 215 degC, 0.125 rpm a bit give
// 8191.875 rpm, 0.05 V a bit give 3276.75 V, 0.05 h a bit 214748364.75 h.
TEST_CASE("full-scale codes are those of the bus") {
  CHECK(bus_code(Channel::oil_pressure) == 255 * 4.0);
  CHECK(bus_code(Channel::coolant_temperature) == 255 - 40.0);
  CHECK(bus_code(Channel::engine_speed) == 65535 * 0.125);
  CHECK(bus_code(Channel::battery_voltage) == Approx(65535 * 0.05));
  CHECK(bus_code(Channel::engine_hours) == Approx(4294967295.0 * 0.05));
  CHECK(bus_code(Channel::frequency) == 65535.0 / 128.0);
  // 0.03125 K a bit from -273 degC.
  CHECK(bus_code(Channel::oil_temperature) ==
        Approx(65535 * 0.03125 - 273.0).epsilon(1e-12));
  CHECK(std::isnan(bus_code(Channel::start_count)));
}

TEST_CASE("every state has a word of its own") {
  std::set<std::string_view> words;
  for (EngineState state :
       {EngineState::stopped, EngineState::preheat, EngineState::cranking,
        EngineState::starting, EngineState::running, EngineState::loaded,
        EngineState::cool_down, EngineState::stopping, EngineState::fault}) {
    CHECK_FALSE(state_word(state).empty());
    words.insert(state_word(state));
  }
  CHECK(words.size() == 9);
}

}  // namespace
}  // namespace telltale::host::sim
