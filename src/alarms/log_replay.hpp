// Cures from the channels of a log, where it carries what its alarms watch.
#pragma once

#include "alarms/alarm_report.hpp"
#include "ingest/log.hpp"

namespace telltale::host {

/// For each warning that chatters and whose channel the log has: finds its
/// limit and tries settings on the channel itself, in two more passes over the
/// log. Where the replay does not raise what the log has, the cure from run
/// lengths stays. Judges the report anew.
void replay_channels(const Log& log, AlarmReport& report);

}  // namespace telltale::host
