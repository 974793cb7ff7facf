// The table of log units and their factors.
#include "support/units.hpp"

#include <array>
#include <cstddef>

namespace telltale::host {
namespace {

struct UnitRow {
  LogUnit unit;
  std::string_view name;
  std::string_view symbol;
  Quantity quantity;
  double scale;   // base = logged * scale + offset; bases are the canonical
  double offset;  // units: degC, kPa, V, A, kW, %, rpm, h, L/h, L
};

constexpr double kPsi = 6.89475729316836;         // NIST SP 811 B.8
constexpr double kInHg = 3.386388640341;          // conventional, SP 811 B.8
constexpr double kHorsepower = 0.74569987158227;  // 550 ft lbf/s
constexpr double kGallon = 3.785411784;           // US liquid, exact

using enum LogUnit;
constexpr std::array kUnits = {
    UnitRow{none, "", "", Quantity::none, 1.0, 0.0},
    UnitRow{degC, "degC", "°C", Quantity::temperature, 1.0, 0.0},
    UnitRow{degF, "degF", "°F", Quantity::temperature, 5.0 / 9.0, -160.0 / 9.0},
    UnitRow{K, "K", "K", Quantity::temperature, 1.0, -273.15},
    UnitRow{kPa, "kPa", "kPa", Quantity::pressure, 1.0, 0.0},
    UnitRow{bar, "bar", "bar", Quantity::pressure, 100.0, 0.0},
    UnitRow{psi, "psi", "psi", Quantity::pressure, kPsi, 0.0},
    UnitRow{MPa, "MPa", "MPa", Quantity::pressure, 1000.0, 0.0},
    UnitRow{mbar, "mbar", "mbar", Quantity::pressure, 0.1, 0.0},
    UnitRow{inHg, "inHg", "inHg", Quantity::pressure, kInHg, 0.0},
    UnitRow{V, "V", "V", Quantity::voltage, 1.0, 0.0},
    UnitRow{mV, "mV", "mV", Quantity::voltage, 0.001, 0.0},
    UnitRow{kV, "kV", "kV", Quantity::voltage, 1000.0, 0.0},
    UnitRow{A, "A", "A", Quantity::current, 1.0, 0.0},
    UnitRow{mA, "mA", "mA", Quantity::current, 0.001, 0.0},
    UnitRow{kW, "kW", "kW", Quantity::power, 1.0, 0.0},
    UnitRow{W, "W", "W", Quantity::power, 0.001, 0.0},
    UnitRow{hp, "hp", "hp", Quantity::power, kHorsepower, 0.0},
    UnitRow{kVA, "kVA", "kVA", Quantity::power, 1.0, 0.0},
    UnitRow{pct, "%", "%", Quantity::ratio, 1.0, 0.0},
    UnitRow{one, "1", "", Quantity::ratio, 100.0, 0.0},
    UnitRow{Hz, "Hz", "Hz", Quantity::rotation, 60.0, 0.0},
    UnitRow{rpm, "rpm", "rpm", Quantity::rotation, 1.0, 0.0},
    UnitRow{h, "h", "h", Quantity::time, 1.0, 0.0},
    UnitRow{min, "min", "min", Quantity::time, 1.0 / 60.0, 0.0},
    UnitRow{s, "s", "s", Quantity::time, 1.0 / 3600.0, 0.0},
    UnitRow{L_h, "L/h", "L/h", Quantity::flow, 1.0, 0.0},
    UnitRow{gal_h, "gal/h", "gal/h", Quantity::flow, kGallon, 0.0},
    UnitRow{L, "L", "L", Quantity::volume, 1.0, 0.0},
    UnitRow{gal, "gal", "gal", Quantity::volume, kGallon, 0.0},
};

const UnitRow& row_of(LogUnit unit) {
  return kUnits[static_cast<std::size_t>(unit)];
}

constexpr bool table_is_in_order() {
  for (std::size_t i = 0; i < kUnits.size(); ++i) {
    if (static_cast<std::size_t>(kUnits[i].unit) != i) return false;
  }
  return true;
}
static_assert(table_is_in_order());

}  // namespace

std::string_view name_of(LogUnit unit) { return row_of(unit).name; }
std::string_view symbol_of(LogUnit unit) { return row_of(unit).symbol; }
Quantity quantity_of(LogUnit unit) { return row_of(unit).quantity; }

std::optional<LogUnit> log_unit_named(std::string_view name) {
  for (const UnitRow& row : kUnits) {
    if (row.unit != none && row.name == name) return row.unit;
  }
  return std::nullopt;
}

LogUnit as_log_unit(Unit unit) {
  switch (unit) {
    case Unit::one:
      return one;
    case Unit::pct:
      return pct;
    case Unit::rpm:
      return rpm;
    case Unit::Hz:
      return Hz;
    case Unit::V:
      return V;
    case Unit::A:
      return A;
    case Unit::kW:
      return kW;
    case Unit::kPa:
      return kPa;
    case Unit::degC:
      return degC;
    case Unit::h:
      return h;
    case Unit::L_h:
      return L_h;
    case Unit::s:
      return s;
    case Unit::K:
    case Unit::K_per_min:
      break;
  }
  return none;
}

Quantity quantity_of(Unit unit) { return quantity_of(as_log_unit(unit)); }

std::optional<Conversion> conversion(LogUnit from, Unit to) {
  const UnitRow& source = row_of(from);
  const UnitRow& target = row_of(as_log_unit(to));
  if (source.quantity == Quantity::none || source.quantity != target.quantity) {
    return std::nullopt;
  }
  // The same unit stays bit-equal: no multiplying and dividing back.
  if (from == target.unit) return Conversion{};
  if (target.scale == 1.0 && target.offset == 0.0) {
    return Conversion{source.scale, source.offset};
  }
  return Conversion{source.scale / target.scale,
                    (source.offset - target.offset) / target.scale};
}

}  // namespace telltale::host
