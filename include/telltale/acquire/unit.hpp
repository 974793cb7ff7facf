// The units that channels are kept in. Conversions live in src/support/units.
#pragma once

#include <cstdint>
#include <string_view>

namespace telltale {

/// Canonical units only: what the core computes in (contract section 3).
/// Pressure is gauge pressure. `one` is a plain number.
enum class Unit : std::uint8_t {
  one,
  pct,
  rpm,
  Hz,
  V,
  A,
  kW,
  kPa,
  degC,
  h,
  L_h,
  s,
  K,  // a difference of temperatures
  K_per_min
};

/// The unit's name as it stands in JSON.
constexpr std::string_view name_of(Unit unit) {
  constexpr std::string_view kNames[] = {"1",   "%",  "rpm", "Hz",   "V",
                                         "A",   "kW", "kPa", "degC", "h",
                                         "L/h", "s",  "K",   "K/min"};
  return kNames[static_cast<unsigned>(unit)];
}

}  // namespace telltale
