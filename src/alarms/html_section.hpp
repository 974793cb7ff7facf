// The alarm report as HTML: a section of the health report, or a page.
#pragma once

#include <fmt/format.h>

#include <string_view>

#include "alarms/alarm_report.hpp"
#include "report/value_text.hpp"

namespace telltale::host {

/// What a health report shows of the controller's alarms: the time line, the
/// rate with its floods, cures, what came first, all alarms. Headings are of
/// level 3; `id` begins all ids. Text from the journal is escaped.
void write_alarm_section(const AlarmReport& report, UnitSystem units,
                         std::string_view id, fmt::memory_buffer& out);

/// A whole page that loads nothing, with the standards' measures.
void write_alarm_page(const AlarmReport& report, UnitSystem units,
                      fmt::memory_buffer& out);

}  // namespace telltale::host
