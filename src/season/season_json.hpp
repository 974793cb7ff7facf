// The season report as JSON, schema telltale.season/1: see docs/season.md.
#pragma once

#include <fmt/format.h>

#include "season/season_report.hpp"

namespace telltale::host::season {

/// Values in the canonical units of contract section 3. What can't be had is
/// null.
void write_season_json(const SeasonReport& report, fmt::memory_buffer& out);

}  // namespace telltale::host::season
