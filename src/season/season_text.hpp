// The season report as text for a terminal: at most 80 columns.
#pragma once

#include <fmt/format.h>

#include "report/value_text.hpp"
#include "season/season_report.hpp"

namespace telltale::host::season {

struct SeasonTextStyle {
  UnitSystem units = UnitSystem::as_logged;
  bool colour = false;
};

void write_season_text(const SeasonReport& report, const SeasonTextStyle& style,
                       fmt::memory_buffer& out);

}  // namespace telltale::host::season
