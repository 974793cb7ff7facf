// The health report as CSV: one line a run.
#pragma once

#include <fmt/format.h>

#include "report/health_report.hpp"

namespace telltale::host {

/// The header line.
void write_csv_header(fmt::memory_buffer& out);
/// One line for every run of the log, canonical units, RFC 4180.
void write_csv_runs(const HealthReport& report, fmt::memory_buffer& out);

}  // namespace telltale::host
