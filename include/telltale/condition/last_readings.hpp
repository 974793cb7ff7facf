// LastReadings<R>: what each channel read last, and in what steps it moves.
#pragma once

#include <array>
#include <cmath>
#include <concepts>
#include <cstddef>
#include <limits>

#include "telltale/acquire/frame.hpp"
#include "telltale/base/sign_sweep.hpp"

namespace telltale {

/// Kept once for all who look from one scan to the next. The resolution of a
/// channel is learnt from the readings themselves: the smallest change between
/// two successive good ones. A channel in whole degrees shows 1; a noisy
/// channel with many digits soon shows next to nothing.
template <std::floating_point R>
class LastReadings {
 public:
  LastReadings() { smallest_.fill(std::numeric_limits<R>::infinity()); }

  /// How far a channel has moved since its last good reading, either way.
  /// REQUIRES: the channel was seen
  [[nodiscard]] R moved(std::size_t channel, R value) const {
    return std::abs(value - last_[channel]);
  }
  /// A good reading of a channel that was seen, and how far it has moved.
  void learn(std::size_t channel, R value, R moved) {
    if (moved < smallest_[channel] && moved > R(0)) smallest_[channel] = moved;
    if ((unbroken_ >> channel & 1U) != 0) {
      usual_[channel] += kGain * (moved - usual_[channel]);
    }
    last_[channel] = value;
  }
  /// The first good reading of a channel.
  void begin(std::size_t channel, R value) {
    last_[channel] = value;
    usual_[channel] = R(0);
    smallest_[channel] = std::numeric_limits<R>::infinity();
  }
  /// Whether learn_all() will do: the channels that were ever seen, and no
  /// others, are good and have not been missing.
  [[nodiscard]] bool as_ever(ChannelMask good) const {
    return good == seen_ && good == unbroken_;
  }
  /// No reading is further from the last than `times` the usual step. False
  /// where it takes a closer look to tell.
  [[nodiscard]] bool calm(const Frame<R>& frame, R times) const {
    SignSweep<R> sweep;
    for (std::size_t i = 0; i < kChannelCount; ++i) {
      const R moved = std::abs(frame.values[i] - last_[i]);
      sweep.add(times * usual_[i] - moved);
    }
    return !sweep.any_negative();
  }
  /// learn() for all channels in one sweep, and how far each has moved; for
  /// channels never seen it counts for nothing. REQUIRES: as_ever()
  std::array<R, kChannelCount> learn_all(const Frame<R>& frame) {
    constexpr R kNever = std::numeric_limits<R>::infinity();
    std::array<R, kChannelCount> moves;
    for (std::size_t i = 0; i < kChannelCount; ++i) {
      const R moved = std::abs(frame.values[i] - last_[i]);
      const R step = moved > R(0) ? moved : kNever;
      smallest_[i] = step < smallest_[i] ? step : smallest_[i];
      usual_[i] += kGain * (moved - usual_[i]);
      last_[i] = frame.values[i];
      moves[i] = moved;
    }
    return moves;
  }
  /// After the readings of a scan, of which `good` were good.
  void close_scan(const Frame<R>& frame, ChannelMask good) {
    seen_ |= good;
    unbroken_ = (unbroken_ | good) & ~frame.with(Quality::missing);
    impossible_ = frame.with(Quality::implausible);
  }

  /// Channels that have had a good reading.
  [[nodiscard]] ChannelMask seen() const { return seen_; }
  /// Those of them that have not been missing since.
  [[nodiscard]] ChannelMask unbroken() const { return unbroken_; }
  /// Those that read what cannot be in the scan before.
  [[nodiscard]] ChannelMask impossible() const { return impossible_; }
  /// The last good reading. REQUIRES: the channel was seen
  [[nodiscard]] R value(std::size_t channel) const { return last_[channel]; }
  /// Mean size of a step, of late.
  [[nodiscard]] R usual_step(std::size_t channel) const {
    return usual_[channel];
  }
  /// The smallest step so far; infinite where the channel has never moved.
  [[nodiscard]] R smallest_step(std::size_t channel) const {
    return smallest_[channel];
  }
  [[nodiscard]] const std::array<R, kChannelCount>& smallest_steps() const {
    return smallest_;
  }

 private:
  static constexpr R kGain = R(0.05);

  std::array<R, kChannelCount> last_{};
  std::array<R, kChannelCount> smallest_{};
  std::array<R, kChannelCount> usual_{};
  ChannelMask seen_ = 0;
  ChannelMask unbroken_ = 0;
  ChannelMask impossible_ = 0;
};

}  // namespace telltale
