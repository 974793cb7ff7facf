// Block<R>: the means of some ten seconds, for judgements that take minutes.
#pragma once

#include <algorithm>
#include <array>
#include <bit>
#include <concepts>
#include <cstddef>
#include <cstdint>
#include <limits>

#include "telltale/acquire/frame.hpp"
#include "telltale/base/assert.hpp"
#include "telltale/base/box.hpp"
#include "telltale/base/box_time.hpp"

namespace telltale {

/// The channels whose means are kept: all on the host; on the box those that a
/// check asks for.
template <std::floating_point R>
inline constexpr ChannelMask kAveraged =
    kOnBox<R> ? bit(Channel::frequency) | bit(Channel::current_l1) |
                    bit(Channel::current_l2) | bit(Channel::current_l3) |
                    bit(Channel::oil_pressure) | bit(Channel::oil_temperature) |
                    bit(Channel::coolant_temperature) |
                    bit(Channel::exhaust_temperature) |
                    bit(Channel::raw_water_temperature) |
                    bit(Channel::battery_voltage)
              : kEveryChannel;

/// A mean about the first value, so that single precision suffices.
template <std::floating_point R>
struct BlockMean {
  R first = R(0);
  R sum = R(0);

  [[gnu::always_inline]] void add(R x, std::uint16_t& n) {
    if (n == 0) {
      first = x;
      sum = R(0);
    } else if (n < 0xFFFF) {
      sum += x - first;
    }
    if (n < 0xFFFF) ++n;
  }
  [[nodiscard]] R value(std::uint16_t n) const {
    return n > 0 ? first + sum / static_cast<R>(n)
                 : std::numeric_limits<R>::quiet_NaN();
  }
};

/// Means of the good readings of one stretch of time. A stretch is 10 s, or
/// one interval where that is longer.
template <std::floating_point R>
class Block {
 public:
  TimeOf<R> from = kNoTime;
  TimeOf<R> to = kNoTime;  // time of the last scan in it
  SpanOf<R> length{};      // the time it stands for
  std::uint16_t scans = 0;
  bool steady = false;  // every scan of it was steady
  R load_pct = std::numeric_limits<R>::quiet_NaN();

  /// NaN: no good reading. REQUIRES: the channel is one of kAveraged<R>
  [[nodiscard]] R operator[](Channel channel) const {
    TELLTALE_ASSERT((kAveraged<R> & bit(channel)) != 0);
    if ((seen_ & bit(channel)) == 0) return std::numeric_limits<R>::quiet_NaN();
    const std::size_t i = kSlots[index_of(channel)];
    return firsts_[i] + sums_[i] / static_cast<R>(counts_[i]);
  }

 private:
  template <std::floating_point>
  friend class BlockBuilder;

  /// Where the sums of a channel are kept.
  static constexpr std::array<std::uint8_t, kChannelCount> kSlots = [] {
    std::array<std::uint8_t, kChannelCount> slots{};
    std::uint8_t next = 0;
    for_each_bit(kAveraged<R>, [&](std::size_t i) { slots[i] = next++; });
    return slots;
  }();
  static constexpr std::size_t kSize = std::popcount(kAveraged<R>);

  /// A good reading. Sums are about the first one.
  void add(const Frame<R>& frame, std::size_t channel) {
    const std::size_t i = kSlots[channel];
    const R value = frame.values[channel];
    const ChannelMask one = ChannelMask{1} << channel;
    if ((seen_ & one) == 0) {
      seen_ |= one;
      firsts_[i] = value;
      sums_[i] = R(0);
      counts_[i] = 1;
    } else if (counts_[i] < 0xFFFF) {
      sums_[i] += value - firsts_[i];
      ++counts_[i];
    }
  }
  /// The same for all channels that were seen; what the others are left with
  /// counts for nothing. REQUIRES: they are good, and fewer than 65535 scans
  void add_all(const Frame<R>& frame) {
    for (std::size_t i = 0; i < kSize; ++i) {
      sums_[i] += frame.values[i] - firsts_[i];
    }
    for (std::uint16_t& count : counts_) ++count;
  }

  std::array<R, kSize> firsts_{};
  std::array<R, kSize> sums_{};
  std::array<std::uint16_t, kSize> counts_{};
  ChannelMask seen_ = 0;  // with a good reading in this block
};

/// Gathers scans into blocks.
template <std::floating_point R>
class BlockBuilder {
 public:
  static constexpr SpanOf<R> kLength = seconds(10);

  /// Adds a scan, or returns true when it closes the block before it, which
  /// block() then holds; begin_with() must follow before the next scan.
  /// `interval`: the usual time between scans; a gap counts as one.
  bool add(const Frame<R>& frame, SpanOf<R> interval, R load_pct, bool steady) {
    if (block_.scans > 0 && frame.time() - block_.from >= kLength) {
      block_.length = std::min(frame.time() - block_.from,
                               block_.to - block_.from + interval);
      block_.load_pct = load_.value(load_n_);
      closed_ = true;
      return true;
    }
    include(frame, load_pct, steady);
    return false;
  }
  /// The scan that closed the block begins the next one: nobody looks at the
  /// old one any longer. Does nothing where none was closed.
  void begin_with(const Frame<R>& frame, R load_pct, bool steady) {
    if (!closed_) return;
    reset();
    include(frame, load_pct, steady);
  }
  void reset() {
    block_.scans = 0;
    closed_ = false;
  }
  [[nodiscard]] const Block<R>& block() const { return block_; }

 private:
  void include(const Frame<R>& frame, R load_pct, bool steady) {
    if (block_.scans == 0) {
      block_.from = frame.time();
      block_.steady = true;
      block_.seen_ = 0;
      load_n_ = 0;
    }
    block_.to = frame.time();
    if (block_.scans < 0xFFFF) ++block_.scans;
    block_.steady = block_.steady && steady;
    if (load_pct == load_pct) load_.add(load_pct, load_n_);
    const ChannelMask good = frame.with(Quality::good) & kAveraged<R>;
    // As nearly always: the channels that the block began with. In one sweep
    // where all channels are kept.
    if constexpr (kAveraged<R> == kEveryChannel) {
      if (good == block_.seen_ && block_.scans < 0xFFFF) {
        block_.add_all(frame);
        return;
      }
    }
    for_each_bit(good, [&](std::size_t i) { block_.add(frame, i); });
  }

  Block<R> block_;
  BlockMean<R> load_;
  std::uint16_t load_n_ = 0;
  bool closed_ = false;
};

}  // namespace telltale
