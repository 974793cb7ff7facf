// FrameBuilder<R>: readings as they come in, each in its own time -> Frames.
#pragma once

#include <array>
#include <concepts>
#include <cstdint>

#include "telltale/acquire/channel.hpp"
#include "telltale/acquire/frame.hpp"
#include "telltale/base/sign_sweep.hpp"
#include "telltale/base/stamp.hpp"

namespace telltale {

/// Keeps the newest reading of every channel, judges whether it is physically
/// possible, and lets it stand until it is too old.
template <std::floating_point R>
class FrameBuilder {
 public:
  static constexpr DurationMs kDefaultMaxAge = seconds(10);
  using Values = std::array<R, kChannelCount>;

  FrameBuilder() {
    values_.fill(kNone);
    max_age_.fill(in_tenths(kDefaultMaxAge));
  }

  /// How long a reading may be gone by after it was taken: up to 109 minutes,
  /// in tenths of a second.
  void set_max_age(Channel channel, DurationMs age) {
    max_age_[index_of(channel)] = in_tenths(age);
  }
  /// Says that the set has this channel, even before a reading came.
  void declare(Channel channel) { declared_ |= bit(channel); }

  /// A new reading in the channel's canonical unit; NaN says that there should
  /// be one and is none: the next frame then shows it missing, not held.
  /// REQUIRES: `at` does not step back for this channel.
  void put(Channel channel, TimeMs at, R value) {
    const ChannelMask one = bit(channel);
    declared_ |= one;
    if (!(value == value)) {
      lost_ |= one;
      return;
    }
    const std::size_t i = index_of(channel);
    const ChannelMeasure& measure = kMeasures[i];
    const bool fresh = at > last_scan_;
    const bool possible = value >= static_cast<R>(measure.low) &&
                          value <= static_cast<R>(measure.high);
    lost_ &= ~one;
    holding_ |= one;
    fresh_ = fresh ? fresh_ | one : fresh_ & ~one;
    possible_ = possible ? possible_ | one : possible_ & ~one;
    taken_at_[i] = Stamp(at);
    values_[i] = value;
  }
  /// New readings of several channels, all of one time and none of them NaN:
  /// as put() for each. REQUIRES: `at` does not step back for any of them; NaN
  /// stands for every other channel.
  void put(ChannelMask channels, TimeMs at, const Values& values) {
    const ChannelMask others_held = holding_ & ~channels;
    // As nearly always: then no reading has to be looked at by itself.
    if (others_held == 0 && all_possible(values)) {
      values_ = values;
      taken_at_.fill(Stamp(at));
      possible_ |= channels;
    } else {
      for_each_bit(channels, [&](std::size_t i) {
        const ChannelMask one = ChannelMask{1} << i;
        const bool possible = kLow[i] <= values[i] && values[i] <= kHigh[i];
        possible_ = possible ? possible_ | one : possible_ & ~one;
        taken_at_[i] = Stamp(at);
        values_[i] = values[i];
      });
    }
    declared_ |= channels;
    lost_ &= ~channels;
    holding_ |= channels;
    fresh_ = at > last_scan_ ? fresh_ | channels : fresh_ & ~channels;
  }
  void put(EngineState state) { state_ = state; }
  void put_alarms(AlarmMask alarms) { alarms_ = alarms; }

  /// The scan at `now`: readings taken at `now` or since the last scan are
  /// fresh, older ones are held or missing. REQUIRES: no reading was taken
  /// after `now`, or 49 days before it.
  [[nodiscard]] Frame<R> frame(TimeMs now) {
    const ChannelMask known = holding_ & ~lost_;
    const ChannelMask held = young_enough(known & possible_ & ~fresh_, now);
    const ChannelMask good = known & possible_ & fresh_;
    const ChannelMask implausible = known & ~possible_ & fresh_;
    const ChannelMask missing = declared_ & ~(good | held | implausible);
    Frame<R> out(now, values_);
    out.state = state_;
    out.alarms = alarms_;
    for_each_bit(missing, [&](std::size_t i) { out.values[i] = kNone; });
    out.mark_new(good, Quality::good);
    out.mark_new(held, Quality::held);
    out.mark_new(implausible, Quality::implausible);
    out.mark_new(missing, Quality::missing);
    last_scan_ = now;
    lost_ = fresh_ = 0;
    return out;
  }
  /// Forgets the readings, keeps what was declared and the ages.
  void forget() {
    holding_ = 0;
    last_scan_ = kNoTime;
  }

 private:
  static constexpr R kNone = Reading<R>{}.value;
  /// What channels can physically read.
  static constexpr Values kLow = [] {
    Values low{};
    for (std::size_t i = 0; i < kChannelCount; ++i) {
      low[i] = static_cast<R>(kMeasures[i].low);
    }
    return low;
  }();
  static constexpr Values kHigh = [] {
    Values high{};
    for (std::size_t i = 0; i < kChannelCount; ++i) {
      high[i] = static_cast<R>(kMeasures[i].high);
    }
    return high;
  }();

  static constexpr std::uint16_t in_tenths(DurationMs age) {
    constexpr std::int64_t kMost = 0xFFFF;
    const std::int64_t tenths = age.ms / 100;
    return static_cast<std::uint16_t>(tenths < kMost ? tenths : kMost);
  }
  /// No reading is below or above what it can be. False where it takes a closer
  /// look to tell.
  [[nodiscard]] static bool all_possible(const Values& values) {
    SignSweep<R> sweep;
    for (std::size_t i = 0; i < kChannelCount; ++i) {
      sweep.add(values[i] - kLow[i]);
      sweep.add(kHigh[i] - values[i]);
    }
    return !sweep.any_negative();
  }
  /// Of channels that read nothing new those whose reading may still stand; the
  /// others are let go.
  [[nodiscard]] ChannelMask young_enough(ChannelMask channels, TimeMs now) {
    ChannelMask old = 0;
    for_each_bit(channels, [&](std::size_t i) {
      if (taken_at_[i].age(now).ms > std::int64_t{max_age_[i]} * 100) {
        old |= ChannelMask{1} << i;
      }
    });
    holding_ &= ~old;
    return channels & ~old;
  }

  Values values_{};
  std::array<Stamp, kChannelCount> taken_at_{};
  std::array<std::uint16_t, kChannelCount> max_age_{};  // tenths of a second
  TimeMs last_scan_ = kNoTime;
  ChannelMask declared_ = 0;
  ChannelMask holding_ = 0;   // a reading came and is not too old
  ChannelMask fresh_ = 0;     // it came since the last scan
  ChannelMask possible_ = 0;  // it is physically possible
  ChannelMask lost_ = 0;      // said to be missing since the last scan
  AlarmMask alarms_ = 0;
  EngineState state_ = EngineState::unknown;
};

}  // namespace telltale
