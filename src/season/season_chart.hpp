// SeasonChart: one figure of one set as a small picture.
#pragma once

#include <map>
#include <string>
#include <tuple>

#include "season/figure_text.hpp"
#include "season/season_report.hpp"

namespace telltale::host::season {

/// What pictures share: the time from left to right, and for each figure of
/// sets of the same kind the values from bottom to top.
class ChartScales {
 public:
  explicit ChartScales(const SeasonReport& report);

  struct Range {
    double low = 0.0;
    double high = 1.0;
  };
  [[nodiscard]] Range values(const UnitSeason& unit, FigureKind kind,
                             Basis basis) const;
  /// 0 at the first run of the store, 1 at the last.
  [[nodiscard]] double across(TimeMs at) const;

 private:
  using Key = std::tuple<std::string, FigureKind, Basis>;
  static Key key_of(const UnitSeason& unit, FigureKind kind, Basis basis);

  TimeMs first_;
  TimeMs last_;
  std::map<Key, Range> values_;
};

/// An SVG element; `label` is read out instead of it.
std::string chart_of(const FigureFollow& figure, const UnitSeason& unit,
                     const ChartScales& scales, const FigureText& text,
                     const std::string& label);

}  // namespace telltale::host::season
