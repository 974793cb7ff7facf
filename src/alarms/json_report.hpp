// The alarm report as JSON, schema telltale.alarms/1 (docs/alarms.md).
#pragma once

#include <fmt/format.h>

#include "alarms/alarm_report.hpp"

namespace telltale::host {

/// One object. What can't be had is null; all seconds, days and units are as
/// named. Texts hold no control characters.
void write_alarm_json(const AlarmReport& report, fmt::memory_buffer& out);

}  // namespace telltale::host
