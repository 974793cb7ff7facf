// The health report as JSON (contract section 8), canonical units.
#pragma once

#include <fmt/format.h>

#include "report/health_report.hpp"

namespace telltale::host {

/// One object, pretty-printed, with a final line break.
void write_json(const HealthReport& report, fmt::memory_buffer& out);

}  // namespace telltale::host
