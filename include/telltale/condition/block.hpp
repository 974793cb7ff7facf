// Block<R>: the means of some ten seconds, for judgements that take minutes.
#pragma once

#include <algorithm>
#include <array>
#include <concepts>
#include <cstddef>
#include <cstdint>
#include <limits>

#include "telltale/acquire/frame.hpp"

namespace telltale {

/// Means of the good readings of one stretch of time. A stretch is 10 s, or
/// one interval where that is longer.
template <std::floating_point R>
struct Block {
  TimeMs from = kNoTime;
  TimeMs to = kNoTime;  // time of the last scan in it
  DurationMs length{};  // the time it stands for
  std::uint16_t scans = 0;
  bool steady = false;  // every scan of it was steady
  R load_pct = std::numeric_limits<R>::quiet_NaN();
  std::array<R, kChannelCount> mean{};  // NaN: no good reading

  [[nodiscard]] R operator[](Channel channel) const {
    return mean[index_of(channel)];
  }
};

/// Gathers scans into blocks.
template <std::floating_point R>
class BlockBuilder {
 public:
  static constexpr DurationMs kLength = seconds(10);

  /// Adds a scan. Returns true when that closed the block before it, which
  /// block() then holds until the next one closes.
  /// `interval`: the usual time between scans; a gap counts as one.
  bool add(const Frame<R>& frame, DurationMs interval, R load_pct,
           bool steady) {
    bool closed = false;
    if (scans_ > 0 && frame.at - from_ >= kLength) {
      close(frame.at, interval);
      closed = true;
    }
    if (scans_ == 0) begin(frame.at);
    to_ = frame.at;
    if (scans_ < 0xFFFF) ++scans_;
    steady_ = steady_ && steady;
    load_.add(load_pct);
    for (std::size_t i = 0; i < kChannelCount; ++i) {
      if (frame.readings[i].good()) sums_[i].add(frame.readings[i].value);
    }
    return closed;
  }
  void reset() { scans_ = 0; }
  [[nodiscard]] const Block<R>& block() const { return block_; }

 private:
  /// A mean about the first value, so that single precision suffices.
  struct Mean {
    R first = R(0);
    R sum = R(0);
    std::uint16_t n = 0;

    void add(R x) {
      if (!(x == x) || n == 0xFFFF) return;
      if (n == 0) first = x;
      sum += x - first;
      ++n;
    }
    [[nodiscard]] R value() const {
      return n > 0 ? first + sum / static_cast<R>(n)
                   : std::numeric_limits<R>::quiet_NaN();
    }
  };

  void begin(TimeMs at) {
    from_ = at;
    steady_ = true;
    load_ = Mean{};
    sums_.fill(Mean{});
  }
  void close(TimeMs next, DurationMs interval) {
    block_.from = from_;
    block_.to = to_;
    block_.length = std::min(next - from_, to_ - from_ + interval);
    block_.scans = scans_;
    block_.steady = steady_;
    block_.load_pct = load_.value();
    for (std::size_t i = 0; i < kChannelCount; ++i) {
      block_.mean[i] = sums_[i].value();
    }
    scans_ = 0;
  }

  Block<R> block_;
  std::array<Mean, kChannelCount> sums_{};
  Mean load_;
  TimeMs from_ = kNoTime;
  TimeMs to_ = kNoTime;
  std::uint16_t scans_ = 0;
  bool steady_ = true;
};

}  // namespace telltale
