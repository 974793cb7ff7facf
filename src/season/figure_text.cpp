#include "season/figure_text.hpp"

#include <fmt/format.h>

#include <cmath>

namespace telltale::host::season {
namespace {

int decimals_of(LogUnit unit, FigureKind kind) {
  switch (unit) {
    case LogUnit::Hz:
    case LogUnit::bar:
      return 2;
    case LogUnit::MPa:
      return 3;
    case LogUnit::kPa:
    case LogUnit::mbar:
      return 0;
    case LogUnit::V:
      return info_of(kind).channel == Channel::battery_voltage ? 2 : 1;
    default:
      return 1;
  }
}

}  // namespace

FigureText::FigureText(UnitSystem system, LogUnit pressure,
                       LogUnit temperature) {
  if (system == UnitSystem::us) {
    pressure_ = LogUnit::psi;
    temperature_ = LogUnit::degF;
  } else if (system == UnitSystem::as_logged) {
    if (quantity_of(pressure) == Quantity::pressure) pressure_ = pressure;
    if (quantity_of(temperature) == Quantity::temperature) {
      temperature_ = temperature;
    }
  }
}

LogUnit FigureText::unit_of(FigureKind kind) const {
  const Unit unit = info_of(kind).unit;
  if (unit == Unit::kPa) return pressure_;
  if (unit == Unit::degC) return temperature_;
  return as_log_unit(unit);
}

std::string_view FigureText::symbol(FigureKind kind) const {
  const LogUnit unit = unit_of(kind);
  return unit == LogUnit::one ? std::string_view{} : symbol_of(unit);
}

double FigureText::shown(FigureKind kind, double value) const {
  const auto change = conversion(unit_of(kind), info_of(kind).unit);
  return change ? change->from_canonical(value) : value;
}

double FigureText::scaled(FigureKind kind, double difference) const {
  const auto change = conversion(unit_of(kind), info_of(kind).unit);
  return change ? difference / change->scale : difference;
}

std::string FigureText::number(FigureKind kind, double value) const {
  if (!std::isfinite(value)) return "?";
  return grouped(shown(kind, value), decimals_of(unit_of(kind), kind));
}

std::string FigureText::level(FigureKind kind, double value) const {
  const std::string_view unit = symbol(kind);
  return fmt::format("{}{}{}", number(kind, value), unit.empty() ? "" : " ",
                     unit);
}

std::string FigureText::change(FigureKind kind, double value) const {
  if (!std::isfinite(value)) return "?";
  const int decimals = decimals_of(unit_of(kind), kind) + 1;
  std::string out = fmt::format("{:+.{}f}", scaled(kind, value), decimals);
  // Nothing that was rounded away has a sign.
  if (out.find_first_of("123456789") == std::string::npos) out.erase(0, 1);
  return out;
}

std::string FigureText::size(FigureKind kind, double value) const {
  const std::string_view unit = symbol(kind);
  return fmt::format("{:.{}f}{}{}", std::abs(scaled(kind, value)),
                     decimals_of(unit_of(kind), kind) + 1,
                     unit.empty() ? "" : " ", unit);
}

std::string FigureText::celsius(double degc) const {
  const auto change = conversion(temperature_, Unit::degC);
  return fmt::format("{:.0f} {}", change ? change->from_canonical(degc) : degc,
                     symbol_of(temperature_));
}

std::string FigureText::condition(const FigureFollow& figure) const {
  const ReferenceCondition& at = figure.reference;
  std::string out;
  const auto add = [&out](double x, const std::string& text) {
    if (!std::isfinite(x)) return;
    out += out.empty() ? "at " : ", ";
    out += text;
  };
  add(at.load_pct, fmt::format("{:.0f} % load", at.load_pct));
  add(at.oil_degc, "oil at " + celsius(at.oil_degc));
  add(at.coolant_degc, "coolant at " + celsius(at.coolant_degc));
  add(at.water_degc, "sea at " + celsius(at.water_degc));
  add(at.air_degc, "air at " + celsius(at.air_degc));
  add(at.start_degc, "engine at " + celsius(at.start_degc));
  if (out.starts_with("at oil") || out.starts_with("at coolant") ||
      out.starts_with("at sea") || out.starts_with("at air") ||
      out.starts_with("at engine")) {
    out.erase(0, 3);
  }
  return out;
}

}  // namespace telltale::host::season
