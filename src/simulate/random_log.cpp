// How loggers differ: which columns, how coarse, how spelt.
#include <algorithm>
#include <cmath>

#include "simulate/presets.hpp"
#include "simulate/random_scenario.hpp"

namespace telltale::host::sim {
namespace {

/// What even the smallest logger has.
constexpr ChannelMask kFew =
    bit(Channel::frequency) | bit(Channel::voltage_l1) | bit(Channel::power) |
    bit(Channel::coolant_temperature) | bit(Channel::oil_pressure) |
    bit(Channel::battery_voltage);

double coarse_step(const SensorSpec& spec) {
  switch (info_of(spec.channel).unit) {
    case Unit::kPa:
      return spec.unit == LogUnit::kPa ? 4.0 : 1.0;  // a bus step, or 1 psi
    case Unit::degC:
    case Unit::V:
      return spec.channel == Channel::battery_voltage ? 0.1 : 1.0;
    case Unit::A:
      return 1.0;
    case Unit::kW:
      return 0.1;
    case Unit::rpm:
      return 10.0;
    default:
      return spec.resolution;
  }
}

}  // namespace

void vary_sensors(Scenario& scenario, ChannelMask keep, Random& random) {
  const UnitSystem units =
      random.chance(0.4) ? UnitSystem::us : UnitSystem::metric;
  scenario.sensors = usual_sensors(scenario.set, units);
  const bool few = random.chance(0.2);
  const double dropped = random.chance(0.4) ? 0.25 : 0.0;
  std::erase_if(scenario.sensors, [&](const SensorSpec& spec) {
    const ChannelMask mask = bit(spec.channel);
    const bool lost = random.chance(dropped);  // drawn for every column
    if ((mask & keep) != 0) return false;
    return few ? (mask & kFew) == 0 : lost && (mask & kFew) == 0;
  });
  const bool coarse = random.chance(0.35);
  const double noise = random.between_log(0.4, 2.5);
  const double hour_steps[] = {0.05, 0.1, 1.0};
  const double hours = hour_steps[random.below(3)];
  const double missing = random.chance(0.25) ? random.between(0.05, 0.4) : 0.0;
  const bool slow_bus = random.chance(0.15);
  for (SensorSpec& spec : scenario.sensors) {
    spec.noise *= noise * random.between(0.7, 1.3);
    if (coarse) spec.resolution = coarse_step(spec);
    if (spec.channel == Channel::engine_hours) {
      spec.resolution = (keep & bit(spec.channel)) != 0 ? 0.05 : hours;
    }
    spec.dropout_pct = missing;
    if (slow_bus && info_of(spec.channel).unit == Unit::degC) {
      spec.period_s = 5.0;
    }
    // Senders are good, not perfect.
    if (info_of(spec.channel).unit == Unit::degC) {
      spec.bias = random.between(-0.8, 0.8);
    }
  }
  // Some controllers give load in per cent and no kilowatts.
  const bool per_cent = random.chance(0.15);
  const bool has_load = std::any_of(
      scenario.sensors.begin(), scenario.sensors.end(),
      [](const SensorSpec& s) { return s.channel == Channel::load; });
  for (SensorSpec& spec : scenario.sensors) {
    if (!per_cent || has_load || spec.channel != Channel::power) continue;
    spec.channel = Channel::load;
    spec.unit = LogUnit::pct;
    spec.resolution = 1.0;
    spec.noise = 0.3;
  }
  if (random.chance(0.3)) {
    // Columns in no order anybody would choose.
    for (std::size_t i = scenario.sensors.size(); i > 1; --i) {
      std::swap(scenario.sensors[i - 1],
                scenario.sensors[random.below(static_cast<std::uint32_t>(i))]);
    }
  }
}

void vary_format(Scenario& scenario, Random& random) {
  LogFormat& format = scenario.format;
  scenario.state_column = random.chance(0.6);
  scenario.alarm_column = random.chance(0.6);
  if (random.chance(0.4)) return;  // plain
  constexpr char kDelimiters[] = {',', ';', '\t', '|'};
  format.delimiter = kDelimiters[random.below(4)];
  if (format.delimiter != ',' && random.chance(0.4)) format.decimal = ',';
  if (random.chance(0.3)) format.line_end = "\r\n";
  format.time = static_cast<TimeStyle>(random.below(11));
  if (format.time == TimeStyle::iso_offset) {
    format.utc_offset_min = 60 * (static_cast<int>(random.below(15)) - 6);
  }
  format.header = static_cast<HeaderStyle>(random.below(4));
  format.unit_row = random.chance(0.15);
  format.quoted_header = random.chance(0.2);
  format.units_in_cells = !format.unit_row && random.chance(0.08);
  format.encoding = random.chance(0.75)
                        ? Encoding::utf8
                        : static_cast<Encoding>(random.below(5));
  if (random.chance(0.25)) {
    format.preamble = {"Log of " + scenario.set.name, "Firmware 3.2",
                       "Exported by the panel", ""};
  }
  constexpr const char* kMissing[] = {"", "N/A", "---", "NaN", "null", "bus"};
  format.missing = kMissing[random.below(6)];
  // Full-scale codes come from a bus, and those are metric.
  const bool us = std::any_of(
      scenario.sensors.begin(), scenario.sensors.end(), [](const auto& s) {
        return s.unit == LogUnit::psi || s.unit == LogUnit::degF;
      });
  if (us && format.missing == "bus") format.missing.clear();
  format.cut_last_line = random.chance(0.05);
  if (random.chance(0.08)) format.repeat_header_rows = 1000;
  if (random.chance(0.1)) format.unit_column = "GS1";
}

}  // namespace telltale::host::sim
