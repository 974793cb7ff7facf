// RollingMean<R, N, kWindow>: the mean over a time window, in N buckets.
#pragma once

#include <concepts>
#include <cstddef>
#include <cstdint>
#include <limits>

#include "telltale/base/box_time.hpp"
#include "telltale/base/ring.hpp"
#include "telltale/base/time.hpp"

namespace telltale {

/// Memory for N + 1 numbers whatever the sampling; the window slides by whole
/// inputs, the oldest bucket weighing less the further the newest is filled.
/// A bucket holds at least one input, so N of them are at least N readings.
/// `Kept`: as what it is kept, R or something that reads like one.
template <std::floating_point R, std::size_t N, DurationMs kWindow,
          class Kept = R>
class RollingMean {
 public:
  /// A mean that stands for `length` of time. REQUIRES: x is finite.
  void add(SpanOf<R> length, R x) {
    sum_ += x * in_ms<R>(length);
    filled_ms_ += static_cast<std::uint32_t>(length.ms);
    if (filled_ms_ < kBucketMs) return;
    buckets_.push(sum_ / static_cast<R>(filled_ms_));
    sum_ = R(0);
    filled_ms_ = 0;
  }
  void clear() {
    buckets_.clear();
    sum_ = R(0);
    filled_ms_ = 0;
  }

  /// The window has been filled once.
  [[nodiscard]] bool full() const { return buckets_.full(); }
  /// NaN while empty.
  [[nodiscard]] R mean() const { return mean_of(buckets_.size(), full()); }
  /// 0 until the window has been filled once. Of its newest `last` buckets, a
  /// shorter window within this one.
  [[nodiscard]] R mean_if_full(std::size_t last = N) const {
    return buckets_.size() < last ? R(0) : mean_of(last, true);
  }

 private:
  static constexpr auto kBucketMs =
      static_cast<std::uint32_t>(kWindow.ms / std::int64_t{N});

  /// `sliding`: the oldest of them weighs less the further the newest is
  /// filled.
  [[nodiscard]] R mean_of(std::size_t last, bool sliding) const {
    const R newest = static_cast<R>(filled_ms_) / static_cast<R>(kBucketMs);
    R weight = newest;
    R sum = filled_ms_ > 0 ? sum_ / static_cast<R>(kBucketMs) : R(0);
    const std::size_t first = buckets_.size() - last;
    for (std::size_t i = first; i < buckets_.size(); ++i) {
      const R w = i == first && sliding ? R(1) - newest : R(1);
      sum += w * buckets_[i];
      weight += w;
    }
    return weight > R(0) ? sum / weight : std::numeric_limits<R>::quiet_NaN();
  }

  Ring<Kept, N> buckets_;
  R sum_ = R(0);  // of the bucket being filled, times milliseconds
  std::uint32_t filled_ms_ = 0;
};

}  // namespace telltale
