// Units as logs write them, and their conversion to the core's canonical ones.
#pragma once

#include <cstdint>
#include <optional>
#include <string_view>

#include "telltale/acquire/unit.hpp"

namespace telltale::host {

/// Every unit a column may be logged in (contract section 8), `none` where it
/// has none or is text.
enum class LogUnit : std::uint8_t {
  none,
  degC,
  degF,
  K,
  kPa,
  bar,
  psi,
  MPa,
  mbar,
  inHg,
  V,
  mV,
  kV,
  A,
  mA,
  kW,
  W,
  hp,
  kVA,
  pct,
  one,
  Hz,
  rpm,
  h,
  min,
  s,
  L_h,
  gal_h,
  L,
  gal
};

/// What a unit measures; conversion is possible within one quantity.
enum class Quantity : std::uint8_t {
  none,
  temperature,
  pressure,
  voltage,
  current,
  power,
  ratio,
  rotation,
  time,
  flow,
  volume
};

/// The unit's name in JSON: "degC", "psi", "%", "1", ...
std::string_view name_of(LogUnit unit);
/// The unit's name for people: "°C", "psi", "%", ...
std::string_view symbol_of(LogUnit unit);
/// The unit whose JSON name that is (exact spelling), if any.
std::optional<LogUnit> log_unit_named(std::string_view name);

Quantity quantity_of(LogUnit unit);
Quantity quantity_of(Unit unit);
/// The canonical unit itself, as a log unit.
LogUnit as_log_unit(Unit unit);

/// A linear change of unit: canonical = logged * scale + offset.
struct Conversion {
  double scale = 1.0;
  double offset = 0.0;

  [[nodiscard]] double to_canonical(double logged) const {
    return logged * scale + offset;
  }
  [[nodiscard]] double from_canonical(double value) const {
    return (value - offset) / scale;
  }
};

/// How readings in `from` become readings in `to`; nothing where the two do
/// not measure the same. Hz and rpm convert into each other (1 Hz = 60 rpm):
/// some loggers give speed in revolutions a second. Factors: NIST SP 811
/// appendix B; inHg is the conventional one at 0 degC.
std::optional<Conversion> conversion(LogUnit from, Unit to);

}  // namespace telltale::host
