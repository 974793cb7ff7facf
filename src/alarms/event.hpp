// AlarmEvent: an alarm comes, goes or is acknowledged.
#pragma once

#include <cstdint>

#include "telltale/base/time.hpp"

namespace telltale::host {

enum class EventKind : std::uint8_t {
  raised,
  cleared,
  acknowledged,
  stood  // it stood already where the journal begins: no raise
};

/// One event of a list in order of time.
struct AlarmEvent {
  TimeMs at;      // never steps back from event to event
  TimeMs logged;  // as the journal has it (UTC where the zone is known)
  std::uint64_t line = 0;   // of the journal, the first is 1; 0: none
  std::uint32_t alarm = 0;  // index into an AlarmTable
  EventKind kind = EventKind::raised;
  /// A raise whose own clear is sure to come, as in a journal of beginnings and
  /// ends: it counts though the alarm may stand already.
  bool paired = false;
};

/// Where in a journal an event stands.
struct EventPlace {
  TimeMs at = kNoTime;
  TimeMs logged = kNoTime;
  std::uint64_t line = 0;
};
constexpr EventPlace place_of(const AlarmEvent& event) {
  return {event.at, event.logged, event.line};
}

/// Seconds from one moment to another.
constexpr double seconds_between(TimeMs from, TimeMs to) {
  return static_cast<double>((to - from).ms) / 1000.0;
}

}  // namespace telltale::host
