// The figures that a season follows: their names, units, and which way is bad.
#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <optional>
#include <string_view>

#include "telltale/acquire/channel.hpp"
#include "telltale/acquire/unit.hpp"

namespace telltale::host::season {

/// In the order of contract section 7. Stored by slug, never by number.
enum class FigureKind : std::uint8_t {
  hot_oil_pressure,
  frequency_at_load,
  droop,
  voltage_at_load,
  exhaust_at_load,
  coolant_at_load,
  charging_voltage,
  crank_seconds,
  crank_attempts,
  crank_dip,
  light_load_share,
};
inline constexpr std::size_t kFigureCount = 11;

/// What a figure's own condition is, the one it is brought to a reference of.
enum class Condition : std::uint8_t {
  none,
  load,         // percent of rating
  oil,          // degC, by the logarithm of viscosity
  engine_cold,  // degC before the start
  air,          // degC
};

/// Whether a run tells a figure only where its load is known.
constexpr bool needs_load(FigureKind kind) {
  switch (kind) {
    case FigureKind::frequency_at_load:
    case FigureKind::droop:
    case FigureKind::voltage_at_load:
    case FigureKind::exhaust_at_load:
    case FigureKind::coolant_at_load:
    case FigureKind::light_load_share:
      return true;
    default:
      return false;
  }
}

/// Which way a figure moves when things get worse.
enum class BadWay : std::uint8_t { up, down, both };

struct FigureInfo {
  FigureKind kind;
  std::string_view slug;   // in JSON and in the store
  std::string_view title;  // for people
  bool plural;             // the title: "charging volts fall"
  Unit unit;
  Channel channel;  // whose units it is shown in; none: its own
  Condition condition;
  BadWay bad;
  std::string_view check;  // whose causes and next steps fit
};

inline constexpr std::array<FigureInfo, kFigureCount> kFigures = {{
    {FigureKind::hot_oil_pressure, "hot_oil_pressure", "hot oil pressure",
     false, Unit::kPa, Channel::oil_pressure, Condition::oil, BadWay::down,
     "oil-pressure-fade"},
    {FigureKind::frequency_at_load, "frequency_at_load", "frequency at load",
     false, Unit::Hz, Channel::frequency, Condition::load, BadWay::both,
     "frequency-drift"},
    {FigureKind::droop, "droop", "droop", false, Unit::pct, Channel::none,
     Condition::none, BadWay::up, "frequency-droop"},
    {FigureKind::voltage_at_load, "voltage_at_load", "volts at load", true,
     Unit::V, Channel::voltage_l1, Condition::load, BadWay::both,
     "voltage-low"},
    {FigureKind::exhaust_at_load, "exhaust_at_load", "exhaust at load", false,
     Unit::degC, Channel::exhaust_temperature, Condition::load, BadWay::up,
     "exhaust-climb"},
    {FigureKind::coolant_at_load, "coolant_at_load", "coolant at load", false,
     Unit::degC, Channel::coolant_temperature, Condition::load, BadWay::up,
     "coolant-climb"},
    {FigureKind::charging_voltage, "charging_voltage", "charging volts", true,
     Unit::V, Channel::battery_voltage, Condition::air, BadWay::both,
     "charging-low"},
    {FigureKind::crank_seconds, "crank_seconds", "crank time", false, Unit::s,
     Channel::none, Condition::engine_cold, BadWay::up, "long-crank"},
    {FigureKind::crank_attempts, "crank_attempts", "cranks a start", true,
     Unit::one, Channel::none, Condition::none, BadWay::up,
     "repeated-cranking"},
    {FigureKind::crank_dip, "crank_dip", "crank dip", false, Unit::V,
     Channel::battery_voltage, Condition::engine_cold, BadWay::down,
     "crank-dip"},
    {FigureKind::light_load_share, "light_load_share", "light-load share",
     false, Unit::pct, Channel::none, Condition::none, BadWay::up,
     "light-load"},
}};

constexpr const FigureInfo& info_of(FigureKind kind) {
  return kFigures[static_cast<std::size_t>(kind)];
}
constexpr std::optional<FigureKind> figure_named(std::string_view slug) {
  for (const FigureInfo& info : kFigures) {
    if (info.slug == slug) return info.kind;
  }
  return std::nullopt;
}

}  // namespace telltale::host::season
