// Reading and Frame: one scan of the set, as every later block sees it.
#pragma once

#include <array>
#include <concepts>
#include <cstdint>
#include <limits>

#include "telltale/acquire/channel.hpp"
#include "telltale/acquire/engine_state.hpp"
#include "telltale/base/time.hpp"

namespace telltale {

/// How far a reading can be trusted. "Cannot tell" is a value.
enum class Quality : std::uint8_t {
  absent,       // the set has no such channel
  missing,      // no usable reading in this scan: blank, sentinel, too old
  held,         // the last good one, still young enough to go by
  good,         // fresh and plausible
  implausible,  // outside what the channel can physically read
  spike,        // a single reading far off both its neighbours
  frozen        // has not moved for long while what it must follow did
};

/// There is a reading, and it is not to be judged.
constexpr bool is_condemned(Quality quality) {
  return quality >= Quality::implausible;
}

/// A value in the channel's canonical unit; NaN where there is none. The value
/// of a condemned reading is kept so that it can be told, never judged.
template <std::floating_point R>
struct Reading {
  R value = std::numeric_limits<R>::quiet_NaN();
  Quality quality = Quality::absent;

  /// Fresh: may enter statistics and judgements.
  [[nodiscard]] constexpr bool good() const { return quality == Quality::good; }
  /// Good to go by beside another channel's fresh reading.
  [[nodiscard]] constexpr bool usable() const {
    return quality == Quality::good || quality == Quality::held;
  }
};

/// All readings of one time.
template <std::floating_point R>
struct Frame {
  TimeMs at = kNoTime;
  AlarmMask alarms = 0;
  EngineState state = EngineState::unknown;
  std::array<Reading<R>, kChannelCount> readings{};

  /// REQUIRES: channel != Channel::none
  constexpr const Reading<R>& operator[](Channel channel) const {
    return readings[index_of(channel)];
  }
  constexpr Reading<R>& operator[](Channel channel) {
    return readings[index_of(channel)];
  }
};

}  // namespace telltale
