// FigureText: a season's figures in the units that people read them in.
#pragma once

#include <string>

#include "report/value_text.hpp"
#include "season/season_report.hpp"

namespace telltale::host::season {

/// For one set: --units decides, or how its logs wrote it.
class FigureText {
 public:
  FigureText(UnitSystem system, LogUnit pressure, LogUnit temperature);
  FigureText(UnitSystem system, const UnitSeason& unit)
      : FigureText(system, unit.pressure, unit.temperature) {}

  /// "312"; "?" where there is none.
  [[nodiscard]] std::string number(FigureKind kind, double value) const;
  /// "312 kPa"
  [[nodiscard]] std::string level(FigureKind kind, double value) const;
  /// A difference with its sign and no unit, one decimal more: "-15.2".
  [[nodiscard]] std::string change(FigureKind kind, double value) const;
  /// The same without sign, with its unit: "15.2 kPa".
  [[nodiscard]] std::string size(FigureKind kind, double value) const;
  [[nodiscard]] std::string_view symbol(FigureKind kind) const;
  [[nodiscard]] double shown(FigureKind kind, double value) const;
  /// "90 °C"
  [[nodiscard]] std::string celsius(double degc) const;
  /// "at 50 % load, sea at 15 °C"; empty: depends on nothing.
  [[nodiscard]] std::string condition(const FigureFollow& figure) const;

 private:
  [[nodiscard]] LogUnit unit_of(FigureKind kind) const;
  [[nodiscard]] double scaled(FigureKind kind, double difference) const;

  LogUnit pressure_ = LogUnit::kPa;
  LogUnit temperature_ = LogUnit::degC;
};

}  // namespace telltale::host::season
