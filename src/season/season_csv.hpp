// The season report as CSV: one line a set and figure, canonical units.
#pragma once

#include <fmt/format.h>

#include "season/season_report.hpp"

namespace telltale::host::season {

void write_season_csv(const SeasonReport& report, fmt::memory_buffer& out);

}  // namespace telltale::host::season
