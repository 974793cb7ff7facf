// The alarm report as CSV: one line an alarm.
#pragma once

#include <fmt/format.h>

#include "alarms/alarm_report.hpp"

namespace telltale::host {

void write_alarm_csv(const AlarmReport& report, fmt::memory_buffer& out);

}  // namespace telltale::host
