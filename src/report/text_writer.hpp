// The health report as text for a terminal of 80 columns.
#pragma once

#include <fmt/format.h>

#include "report/health_report.hpp"
#include "report/value_text.hpp"

namespace telltale::host {

struct TextStyle {
  UnitSystem units = UnitSystem::as_logged;
  bool colour = false;  // beside the words, never instead of them
};

/// Verdict per run first, then findings by urgency, then figures.
void write_text(const HealthReport& report, const TextStyle& style,
                fmt::memory_buffer& out);

}  // namespace telltale::host
