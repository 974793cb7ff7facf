// RollingMean<R, N, kWindow>: the mean over a time window, in N buckets.
#pragma once

#include <concepts>
#include <cstddef>
#include <cstdint>
#include <limits>

#include "telltale/base/box_time.hpp"
#include "telltale/base/out_of_line.hpp"
#include "telltale/base/ring.hpp"
#include "telltale/base/time.hpp"
#include "telltale/condition/open_mean.hpp"

namespace telltale {

/// The mean of the newest `last` buckets and of one that is filled to the share
/// `open`, its sum `sum` so far. `sliding`: the oldest of them weighs less the
/// further that one is filled. NaN of nothing.
template <std::floating_point R, class Kept>
TELLTALE_OUT_OF_LINE R mean_of_buckets(const RingView<Kept>& buckets,
                                       std::size_t last, bool sliding, R open,
                                       R sum) {
  R weight = open;
  const std::size_t first = buckets.size() - last;
  for (std::size_t i = first; i < buckets.size(); ++i) {
    const R w = i == first && sliding ? R(1) - open : R(1);
    sum += w * buckets[i];
    weight += w;
  }
  return weight > R(0) ? sum / weight : std::numeric_limits<R>::quiet_NaN();
}

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
    R mean = R(0);
    if (newest_.add(length, x, kBucketMs, mean)) buckets_.push(mean);
  }
  void clear() {
    buckets_.clear();
    newest_.clear();
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

  [[nodiscard]] R mean_of(std::size_t last, bool sliding) const {
    constexpr R kWhole = static_cast<R>(kBucketMs);
    return mean_of_buckets<R, Kept>(
        buckets_.view(), last, sliding,
        static_cast<R>(newest_.filled_ms()) / kWhole, newest_.sum() / kWhole);
  }

  Ring<Kept, N> buckets_;
  OpenMean<R> newest_;
};

}  // namespace telltale
