// LastReadings<R>: what each channel read last, and in what steps it moves.
#pragma once

#include <array>
#include <cmath>
#include <concepts>
#include <cstddef>
#include <limits>

#include "telltale/acquire/frame.hpp"

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
  void begin(std::size_t channel, R value) { last_[channel] = value; }
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
