// The pictures of the alarm report, as inline SVG.
#pragma once

#include <string>

#include "alarms/alarm_report.hpp"

namespace telltale::host {

/// The most frequent alarms over time: a lane each, raises and standing time.
std::string timeline_svg(const AlarmReport& report);

/// Raises in ten minutes over time, with the limit of a flood and its spans.
std::string rate_svg(const AlarmReport& report);

/// Raises left by each setting: on-delays, off-delays and deadbands. `wanted`:
/// the unit its channel is shown in, see shown_unit.
std::string cure_svg(const Cure& cure, LogUnit wanted);

}  // namespace telltale::host
