// follow_figure: one figure of one set over its runs: level, trend, changes of
// level, forecast.
#pragma once

#include "season/history.hpp"
#include "season/reference.hpp"
#include "season/season_report.hpp"

namespace telltale::host::season {

/// Fewest runs for a trend, and for looking for changes of level.
inline constexpr std::size_t kLeastForTrend = 8;
inline constexpr std::size_t kLeastForChange = 12;

/// Everything but what needs other sets: peers, and whether the trend is
/// certain among all. `false_alarm`: the probability that a change of level is
/// told of this series though there is none.
FigureFollow follow_figure(const UnitHistory& history, FigureKind kind,
                           const ReferenceTable& references,
                           double false_alarm);

/// When the trend's line reaches the limit that lies its way.
Forecast forecast_of(const FigureFollow& figure, const Profile& profile,
                     double now_h, double observed_h);

}  // namespace telltale::host::season
