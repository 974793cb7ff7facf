// The season report as one HTML page that needs nothing but itself.
#pragma once

#include <fmt/format.h>

#include "report/value_text.hpp"
#include "season/season_report.hpp"

namespace telltale::host::season {

/// One row of small pictures a set: a figure's runs at the reference
/// condition, its trend with the 95 % band, changes and limit marked. Pictures
/// of one figure share their scale, so that a set that stands out is seen.
void write_season_html(const SeasonReport& report, UnitSystem units,
                       fmt::memory_buffer& out);

}  // namespace telltale::host::season
