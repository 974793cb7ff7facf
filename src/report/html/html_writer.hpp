// The health report as one HTML file: pictures, words, no second file.
#pragma once

#include <fmt/format.h>

#include <span>

#include "report/health_report.hpp"
#include "report/value_text.hpp"

namespace telltale::host {

/// One document for all the logs, with an index where there are several. The
/// reports should come with pictures (SessionOptions::pictures); without them
/// it is words and tables. Nothing in it can run but our own script.
void write_html(std::span<const HealthReport> reports, UnitSystem units,
                fmt::memory_buffer& out);

}  // namespace telltale::host
