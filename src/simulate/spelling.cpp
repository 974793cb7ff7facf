// Tables of words.
#include "simulate/spelling.hpp"

#include <array>
#include <cctype>
#include <cmath>

namespace telltale::host::sim {
namespace {

// By channel id.
constexpr std::array<std::string_view, kChannelCount> kShorthand = {
    "RPM",      "Freq",     "L1 Volts",  "L2 Volts", "L3 Volts",  "L-L Volts",
    "L1 Amps",  "L2 Amps",  "L3 Amps",   "Power",    "Load",      "PF",
    "Fuel Lvl", "Hours",    "Oil Press", "Oil Temp", "Cool Temp", "Exh Temp",
    "Wdg Temp", "Sea Temp", "Room Temp", "Batt",     "Fuel Rate", "Starts"};

std::string capitalised(std::string_view title) {
  std::string text(title);
  bool first = true;
  for (char& c : text) {
    if (first)
      c = static_cast<char>(std::toupper(static_cast<unsigned char>(c)));
    first = c == ' ';
  }
  return text;
}

std::string_view ascii_unit(LogUnit unit) {
  switch (unit) {
    case LogUnit::pct:
      return "pct";
    case LogUnit::one:
      return "";
    case LogUnit::L_h:
      return "l_h";
    case LogUnit::gal_h:
      return "gal_h";
    default:
      return name_of(unit);
  }
}

std::string lower(std::string_view text) {
  std::string out(text);
  for (char& c : out) {
    c = static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
  }
  return out;
}

}  // namespace

std::string_view unit_text(LogUnit unit) { return symbol_of(unit); }

std::string header_of(const SensorSpec& sensor, HeaderStyle style) {
  const ChannelInfo& info = info_of(sensor.channel);
  const std::string unit(symbol_of(sensor.unit));
  switch (style) {
    case HeaderStyle::words:
      return capitalised(info.title) + (unit.empty() ? "" : " (" + unit + ")");
    case HeaderStyle::brackets: {
      std::string text = capitalised(info.title);
      return text + (unit.empty() ? "" : " [" + unit + "]");
    }
    case HeaderStyle::shorthand: {
      const std::string name(kShorthand[index_of(sensor.channel)]);
      const bool says_unit = sensor.unit == LogUnit::rpm ||
                             sensor.unit == LogUnit::V ||
                             sensor.unit == LogUnit::A || unit.empty();
      return says_unit ? name : name + " " + std::string(name_of(sensor.unit));
    }
    case HeaderStyle::snake: {
      const std::string ascii = lower(ascii_unit(sensor.unit));
      return std::string(info.slug) + (ascii.empty() ? "" : "_" + ascii);
    }
    case HeaderStyle::bare:
      break;
  }
  return std::string(info.slug);
}

std::string_view state_word(EngineState state) {
  switch (state) {
    case EngineState::stopped:
      return "Ready";
    case EngineState::preheat:
      return "Preheat";
    case EngineState::cranking:
      return "Cranking";
    case EngineState::starting:
      return "Starting";
    case EngineState::running:
      return "Running";
    case EngineState::loaded:
      return "On load";
    case EngineState::cool_down:
      return "Cooling down";
    case EngineState::stopping:
      return "Stopping";
    case EngineState::fault:
      return "Fault";
    case EngineState::unknown:
      break;
  }
  return "";
}

double bus_code(Channel channel) {
  switch (channel) {
    case Channel::oil_temperature:
    case Channel::exhaust_temperature:
    case Channel::raw_water_temperature:
    case Channel::ambient_temperature:
      return 65535.0 / 32.0 - 273.0;  // 2 bytes; the others have one
    case Channel::battery_voltage:
      return 3276.75;
    case Channel::load:
      return 255.0;
    case Channel::fuel_level:
      return 102.0;
    case Channel::power:
      return 2294967.295;
    case Channel::power_factor:
      return 3.0;
    case Channel::start_count:
      return std::nan("");  // no such parameter
    default:
      break;
  }
  switch (info_of(channel).unit) {
    case Unit::rpm:
      return 8191.875;
    case Unit::Hz:
      return 511.9921875;
    case Unit::kPa:
      return 1020.0;
    case Unit::degC:
      return 215.0;
    case Unit::h:
      return 214748364.75;
    case Unit::L_h:
      return 3276.75;
    default:
      return 65535.0;
  }
}

}  // namespace telltale::host::sim
