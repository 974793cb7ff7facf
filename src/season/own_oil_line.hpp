// A set's own oil-pressure line, as it was when its record began.
#pragma once

#include "season/history.hpp"
#include "telltale/profile.hpp"

namespace telltale::host::season {

/// Fewest runs for a line, and how many at most: the first ones from the
/// beginning, or from the last time that the pressure rose to a new level
/// (something was mended). Later runs are left out, so that slow wear does not
/// become the line.
inline constexpr std::size_t kLeastLineRuns = 5;
inline constexpr std::size_t kMostLineRuns = 12;

/// Slope from what the minutes within each run say, level from the runs. The
/// temperatures it holds for reach down to where the pressure of the same runs
/// leaves it by 3 %, as it does where the relief valve opens. Not known where
/// the runs are too few.
Result<OilLine> own_oil_line(Database& db, const UnitHistory& history);

}  // namespace telltale::host::season
