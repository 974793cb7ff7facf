// The sentences of a season report.
#pragma once

#include <string>
#include <vector>

#include "season/figure_text.hpp"
#include "season/season_report.hpp"

namespace telltale::host::season {

/// A finding in one sentence without its full stop.
std::string summary_of(const SeasonFinding& finding, const UnitSeason& unit,
                       const FigureText& text);

/// What it rests on, one clause each.
std::vector<std::string> evidence_of(const SeasonFinding& finding,
                                     const UnitSeason& unit,
                                     const FigureText& text);

/// A forecast: "210 to 340 h", "over 700 h", "at its limit",
/// "-" where nothing leads there. Never a single figure.
std::string forecast_text(const Forecast& forecast);

/// "trend", "change", ...
std::string_view name_of(SeasonFinding::Kind kind);
std::string_view name_of(Forecast::State state);

/// A set's name for people.
std::string shown_name(const UnitSeason& unit);

/// "p < 0.001" or "p = 0.012"
std::string p_text(double p);

}  // namespace telltale::host::season
