// Words of alarm journals: what a row says happened, and what an alarm is for.
#pragma once

#include <optional>
#include <string_view>

#include "alarms/alarm_table.hpp"
#include "alarms/event.hpp"

namespace telltale::host {

/// "ON", "RTN", "ACK", "ALM/UNACK", "cleared", "kommt", "geht", "1", "0" and
/// the like; nothing where the text says neither. Words of English, German,
/// French, Spanish, Italian, Dutch and Norwegian.
std::optional<EventKind> event_of_text(std::string_view text);

/// Sets role and `why_role` by an alarm's own words: its name, its text and the
/// class or priority it has in the journal.
void settle_role(AlarmName& alarm);

}  // namespace telltale::host
