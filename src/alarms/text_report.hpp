// The alarm report as text for a terminal.
#pragma once

#include <fmt/format.h>

#include "alarms/alarm_report.hpp"
#include "report/text_writer.hpp"

namespace telltale::host {

/// Lines of at most 80 columns; long lists are cut and say so.
void write_alarm_text(const AlarmReport& report, const TextStyle& style,
                      fmt::memory_buffer& out);

}  // namespace telltale::host
