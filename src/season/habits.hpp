// How a set is used, and what service it is due.
#pragma once

#include "season/history.hpp"
#include "season/season_report.hpp"

namespace telltale::host::season {

/// Share of an interval from which a service is told as coming up.
inline constexpr double kServiceSoon = 0.9;

/// A set's season without its figures: hours, habits, service. `now`: the
/// time that dates are due against.
UnitSeason describe_use(const UnitHistory& history, TimeMs now);

}  // namespace telltale::host::season
