// Reading and Frame: one scan of the set, as every later block sees it.
#pragma once

#include <array>
#include <concepts>
#include <cstddef>
#include <cstdint>
#include <limits>

#include "telltale/acquire/channel.hpp"
#include "telltale/acquire/engine_state.hpp"
#include "telltale/base/bits.hpp"
#include "telltale/base/box_time.hpp"
#include "telltale/base/out_of_line.hpp"
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

/// One channel in one scan: a value in the channel's canonical unit, NaN where
/// there is none. The value of a condemned reading is there to be told, never
/// to be judged.
template <std::floating_point R>
struct Reading {
  R value = std::numeric_limits<R>::quiet_NaN();
  bool fresh = false;
  bool kept = false;

  /// Fresh: may enter statistics and judgements.
  [[nodiscard]] constexpr bool good() const { return fresh; }
  /// Good to go by beside another channel's fresh reading.
  [[nodiscard]] constexpr bool usable() const { return fresh || kept; }
};

/// All readings of one time. Qualities are kept as sets of channels: most
/// questions are asked of all channels at once, and answered by one word.
template <std::floating_point R>
struct Frame {
  TimeMs at = kNoTime;
  AlarmMask alarms = 0;
  EngineState state = EngineState::unknown;
  std::array<R, kChannelCount> values{};

  // Not constexpr: a constant would be stored value by value.
  Frame() { values.fill(Reading<R>{}.value); }
  /// Values whose quality is still to be told.
  constexpr Frame(TimeMs when, const std::array<R, kChannelCount>& read)
      : at(when), values(read) {}

  /// When it was, as whatever judges it keeps times. REQUIRES: `at` is set
  [[nodiscard]] constexpr TimeOf<R> time() const {
    if constexpr (kOnBox<R>) {
      return BoxTime::of(at);
    } else {
      return at;
    }
  }
  /// The channels whose reading is of that quality.
  [[nodiscard]] constexpr ChannelMask with(Quality quality) const {
    return quality == Quality::absent ? kEveryChannel & ~present()
                                      : sets_[slot(quality)];
  }
  /// The channels that the set has.
  [[nodiscard]] constexpr ChannelMask present() const {
    ChannelMask all = 0;
    for (const ChannelMask set : sets_) all |= set;
    return all;
  }
  [[nodiscard]] constexpr ChannelMask condemned() const {
    return with(Quality::implausible) | with(Quality::spike) |
           with(Quality::frozen);
  }
  /// REQUIRES: channel != Channel::none
  [[nodiscard]] constexpr Quality quality(Channel channel) const {
    for (std::size_t i = 0; i < sets_.size(); ++i) {
      if ((sets_[i] & bit(channel)) != 0) return static_cast<Quality>(i + 1);
    }
    return Quality::absent;
  }
  /// REQUIRES: channel != Channel::none
  [[gnu::always_inline]] constexpr Reading<R> operator[](
      Channel channel) const {
    return {values[index_of(channel)],
            (with(Quality::good) & bit(channel)) != 0,
            (with(Quality::held) & bit(channel)) != 0};
  }

  /// REQUIRES: channel != Channel::none
  constexpr void set(Channel channel, Quality quality,
                     R value = Reading<R>{}.value) {
    values[index_of(channel)] = value;
    for (ChannelMask& set : sets_) set &= ~bit(channel);
    if (quality != Quality::absent) sets_[slot(quality)] |= bit(channel);
  }
  /// Sets the quality of many channels that were absent, values as they are.
  constexpr void mark_new(ChannelMask channels, Quality quality) {
    sets_[slot(quality)] |= channels;
  }
  /// Good or implausible readings turn out to be to condemn.
  TELLTALE_OUT_OF_LINE constexpr void condemn(ChannelMask channels,
                                              Quality as) {
    sets_[slot(Quality::good)] &= ~channels;
    sets_[slot(Quality::implausible)] &= ~channels;
    sets_[slot(as)] |= channels;
  }

 private:
  static constexpr std::size_t slot(Quality quality) {
    return static_cast<std::size_t>(quality) - 1U;
  }

  /// Every quality but `absent`.
  std::array<ChannelMask, static_cast<std::size_t>(Quality::frozen)> sets_{};
};

}  // namespace telltale
