// Row: one sample of one unit, as the reading layer hands it on.
#pragma once

#include <array>
#include <cstdint>

#include "telltale/acquire/channel.hpp"
#include "telltale/acquire/engine_state.hpp"
#include "telltale/base/time.hpp"

namespace telltale::host {

/// What the log's clock did just before a row.
enum class ClockEvent : std::uint8_t { none, set_back, set_forward };

/// All readings that share one time stamp, in canonical units. Whole lines of
/// the cache, because one thread hands it to another.
struct alignas(64) Row {
  /// Analysis clock: never steps back, jumps of the log's clock taken out.
  TimeMs at;
  /// The stamp as logged (UTC where the zone is known).
  TimeMs logged;
  /// The line of the log where the row starts; the first line is 1.
  std::uint64_t line = 0;
  /// Channels with a reading here.
  ChannelMask present = 0;
  /// Channels that have a column but no usable reading in this row: blank, a
  /// missing-value spelling or a bus code.
  ChannelMask blank = 0;
  /// Alarms that stand, one bit each; see LogReader::alarm_names().
  AlarmMask alarms = 0;
  /// Which of the log's units; see LogReader::unit_names().
  std::uint16_t unit = 0;
  EngineState state = EngineState::unknown;
  ClockEvent clock = ClockEvent::none;
  /// Valid where `present` says so, else NaN.
  std::array<double, kChannelCount> value{};
};

}  // namespace telltale::host
