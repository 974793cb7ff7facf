// The alarm report as HTML.
#pragma once

#include <string>

#include "alarms/alarm_report.hpp"

namespace telltale::host {

/// A <section class="alarms"> with inline SVG: findings, a timeline, the rate
/// per ten minutes with flood spans, a cure curve for each alarm that chatters
/// and a table of alarms. Classes alone, no styles; all texts escaped.
std::string alarm_html_section(const AlarmReport& report);

/// A whole page around it, which needs no other file.
std::string alarm_html_page(const AlarmReport& report);

}  // namespace telltale::host
