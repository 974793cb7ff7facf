// FrameBuilder<R>: readings as they come in, each in its own time -> Frames.
#pragma once

#include <array>
#include <bit>
#include <concepts>
#include <cstdint>

#include "telltale/acquire/channel.hpp"
#include "telltale/acquire/frame.hpp"
#include "telltale/base/stamp.hpp"

namespace telltale {

/// Keeps the newest reading of every channel, judges whether it is physically
/// possible, and lets it stand until it is too old.
template <std::floating_point R>
class FrameBuilder {
 public:
  static constexpr DurationMs kDefaultMaxAge = seconds(10);

  FrameBuilder() {
    max_age_ms_.fill(static_cast<std::uint32_t>(kDefaultMaxAge.ms));
  }

  /// How long a reading may be gone by after it was taken. 0 < age < 49 days.
  void set_max_age(Channel channel, DurationMs age) {
    max_age_ms_[index_of(channel)] = static_cast<std::uint32_t>(age.ms);
  }
  /// Says that the set has this channel, even before a reading came.
  void declare(Channel channel) { declared_ |= bit(channel); }

  /// A new reading in the channel's canonical unit; NaN says that there should
  /// be one and is none: the next frame then shows it missing, not held.
  /// REQUIRES: `at` does not step back for this channel.
  void put(Channel channel, TimeMs at, R value) {
    declare(channel);
    if (!(value == value)) {
      lost_ |= bit(channel);
      return;
    }
    lost_ &= ~bit(channel);
    Held& held = held_[index_of(channel)];
    held.at = Stamp(at);
    held.value = value;
    holding_ |= bit(channel);
  }
  void put(EngineState state) { state_ = state; }
  void put_alarms(AlarmMask alarms) { alarms_ = alarms; }

  /// The scan at `now`: readings taken at `now` or since the last scan are
  /// fresh, older ones are held or missing. REQUIRES: no reading was taken
  /// after `now`, or 49 days before it.
  [[nodiscard]] Frame<R> frame(TimeMs now) {
    Frame<R> out;
    out.at = now;
    out.state = state_;
    out.alarms = alarms_;
    for (ChannelMask rest = declared_; rest != 0; rest &= rest - 1U) {
      const auto i = static_cast<std::size_t>(std::countr_zero(rest));
      out.readings[i] = reading(i, now);
    }
    last_scan_ = now;
    lost_ = 0;
    return out;
  }
  /// Forgets the readings, keeps what was declared and the ages.
  void forget() {
    holding_ = 0;
    last_scan_ = kNoTime;
  }

 private:
  struct Held {
    Stamp at;
    R value = R(0);
  };

  [[nodiscard]] Reading<R> reading(std::size_t i, TimeMs now) {
    const Held& held = held_[i];
    if ((holding_ >> i & 1U) == 0 || (lost_ >> i & 1U) != 0)
      return {.quality = Quality::missing};
    const DurationMs age = held.at.age(now);
    const bool fresh = !is_set(last_scan_) || age < now - last_scan_;
    const ChannelInfo& info = kChannels[i];
    const bool possible = held.value >= static_cast<R>(info.low) &&
                          held.value <= static_cast<R>(info.high);
    if (!possible) {
      return {held.value, fresh ? Quality::implausible : Quality::missing};
    }
    if (fresh) return {held.value, Quality::good};
    if (age.ms <= std::int64_t{max_age_ms_[i]}) {
      return {held.value, Quality::held};
    }
    holding_ &= ~(ChannelMask{1} << i);
    return {.quality = Quality::missing};
  }

  std::array<Held, kChannelCount> held_{};
  std::array<std::uint32_t, kChannelCount> max_age_ms_{};
  TimeMs last_scan_ = kNoTime;
  ChannelMask declared_ = 0;
  ChannelMask holding_ = 0;  // a reading came and is not too old
  ChannelMask lost_ = 0;
  AlarmMask alarms_ = 0;
  EngineState state_ = EngineState::unknown;
};

}  // namespace telltale
