// What is logged, in which unit and how coarsely.
#include <algorithm>
#include <array>

#include "simulate/presets.hpp"

namespace telltale::host::sim {
namespace {

struct SensorRow {
  Channel channel;
  LogUnit metric;
  double metric_step;
  LogUnit us;
  double us_step;
  double noise;  // canonical unit
  double lag_s;
};

using U = LogUnit;
using C = Channel;
constexpr std::array kRows = {
    SensorRow{C::engine_speed, U::rpm, 1, U::rpm, 1, 2.0, 0.2},
    SensorRow{C::frequency, U::Hz, 0.1, U::Hz, 0.1, 0.02, 0.2},
    SensorRow{C::voltage_l1, U::V, 0.1, U::V, 0.1, 0.15, 0.3},
    SensorRow{C::voltage_l2, U::V, 0.1, U::V, 0.1, 0.15, 0.3},
    SensorRow{C::voltage_l3, U::V, 0.1, U::V, 0.1, 0.15, 0.3},
    SensorRow{C::voltage_line, U::V, 1, U::V, 1, 0.25, 0.3},
    SensorRow{C::current_l1, U::A, 0.1, U::A, 0.1, 0.08, 0.3},
    SensorRow{C::current_l2, U::A, 0.1, U::A, 0.1, 0.08, 0.3},
    SensorRow{C::current_l3, U::A, 0.1, U::A, 0.1, 0.08, 0.3},
    SensorRow{C::power, U::kW, 0.01, U::kW, 0.01, 0.015, 0.3},
    SensorRow{C::power_factor, U::one, 0.01, U::one, 0.01, 0.003, 0.3},
    SensorRow{C::load, U::pct, 1, U::pct, 1, 0.3, 0.3},
    SensorRow{C::oil_pressure, U::kPa, 1, U::psi, 0.1, 2.2, 0.3},
    SensorRow{C::oil_temperature, U::degC, 0.1, U::degF, 0.1, 0.09, 6.0},
    SensorRow{C::coolant_temperature, U::degC, 0.1, U::degF, 0.1, 0.09, 6.0},
    SensorRow{C::exhaust_temperature, U::degC, 0.1, U::degF, 0.1, 0.3, 2.0},
    SensorRow{C::winding_temperature, U::degC, 0.1, U::degF, 0.1, 0.2, 10.0},
    SensorRow{C::raw_water_temperature, U::degC, 0.1, U::degF, 0.1, 0.08, 15.0},
    SensorRow{C::ambient_temperature, U::degC, 0.1, U::degF, 0.1, 0.08, 30.0},
    SensorRow{C::battery_voltage, U::V, 0.01, U::V, 0.01, 0.02, 0.1},
    SensorRow{C::fuel_level, U::pct, 0.1, U::pct, 0.1, 0.12, 20.0},
    SensorRow{C::fuel_rate, U::L_h, 0.01, U::gal_h, 0.01, 0.02, 1.0},
    SensorRow{C::engine_hours, U::h, 0.1, U::h, 0.1, 0.0, 0.0},
    SensorRow{C::start_count, U::one, 1, U::one, 1, 0.0, 0.0},
};

bool fitted(Channel channel, const Rating& rating) {
  switch (channel) {
    case C::voltage_l2:
    case C::current_l2:
    case C::voltage_line:
      return rating.legs >= 2;
    case C::voltage_l3:
    case C::current_l3:
    case C::power_factor:
    case C::load:
      return rating.legs == 3;
    default:
      return true;
  }
}

}  // namespace

std::vector<SensorSpec> usual_sensors(const SetSpec& set, UnitSystem units) {
  std::vector<SensorSpec> sensors;
  for (const SensorRow& row : kRows) {
    if (!fitted(row.channel, set.rating)) continue;
    const bool us = units == UnitSystem::us;
    SensorSpec spec;
    spec.channel = row.channel;
    spec.unit = us ? row.us : row.metric;
    spec.resolution = us ? row.us_step : row.metric_step;
    spec.noise = row.noise;
    spec.lag_s = row.lag_s;
    sensors.push_back(spec);
  }
  return sensors;
}

}  // namespace telltale::host::sim
