// AlarmClue: the channel that an alarm's name speaks of.
#pragma once

#include <optional>

#include "alarms/alarm_table.hpp"
#include "telltale/acquire/channel.hpp"

namespace telltale::host {

struct AlarmClue {
  Channel channel = Channel::none;
  bool above = true;  // "high", "over"; else "low", "under"
};

/// "High coolant temperature", "OIL PRESS LOW", "SPN 110 FMI 16", "Under
/// frequency". Nothing where name and text name no channel or no direction.
std::optional<AlarmClue> clue_of(const AlarmName& alarm);

}  // namespace telltale::host
