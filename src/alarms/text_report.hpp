// The alarm report as text for a terminal.
#pragma once

#include <fmt/format.h>

#include <string>
#include <vector>

#include "alarms/alarm_report.hpp"
#include "report/text_writer.hpp"

namespace telltale::host {

/// Lines of at most 80 columns; long lists are cut and say so.
void write_alarm_text(const AlarmReport& report, const TextStyle& style,
                      fmt::memory_buffer& out);

/// How the journal was read, beside its columns: its shape, and what was odd.
std::vector<std::string> reading_notes(const AlarmReport& report);

}  // namespace telltale::host
