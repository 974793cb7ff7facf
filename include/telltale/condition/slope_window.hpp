// SlopeWindow<R, N, kWindow>: how fast a slow quantity climbs, over a window of
// means.
#pragma once

#include <array>
#include <concepts>
#include <cstddef>
#include <cstdint>
#include <limits>
#include <span>

#include "telltale/base/box_time.hpp"
#include "telltale/base/ring.hpp"
#include "telltale/base/time.hpp"

namespace telltale {

/// Least-squares slope per point. REQUIRES: two points or more
template <std::floating_point R>
[[gnu::noinline]] R slope_of(std::span<const R> points) {
  const R origin = points.front();
  const R middle = static_cast<R>(points.size() - 1) * R(0.5);
  R ty = R(0);
  R tt = R(0);
  for (std::size_t i = 0; i < points.size(); ++i) {
    const R t = static_cast<R>(i) - middle;
    ty += t * (points[i] - origin);
    tt += t * t;
  }
  return ty / tt;
}

/// N means of window / N each (or one reading, if those come less often), and
/// the least-squares slope through them. Points count as evenly spaced.
/// `Kept`: as what a point is kept, R or something that reads like one.
template <std::floating_point R, std::size_t N, DurationMs kWindow,
          class Kept = R>
class SlopeWindow {
 public:
  /// A mean that stands for `length`. True when that completed a point.
  bool add(SpanOf<R> length, R x) {
    sum_ += x * in_ms<R>(length);
    filled_ms_ += static_cast<std::uint32_t>(length.ms);
    if (filled_ms_ < kCellMs) return false;
    spacing_ms_ = filled_ms_;
    points_.push(sum_ / static_cast<R>(filled_ms_));
    sum_ = R(0);
    filled_ms_ = 0;
    return true;
  }
  void clear() {
    points_.clear();
    sum_ = R(0);
    filled_ms_ = 0;
  }

  /// Enough points to speak of the whole window.
  [[nodiscard]] bool full() const {
    return points_.size() >= 3 && std::uint64_t{spacing_ms_} * points_.size() >=
                                      std::uint64_t{kCellMs} * N;
  }
  /// Per minute, over the newest `share` of the window (1: all of it). NaN
  /// below three points.
  [[nodiscard]] R per_minute(R share = R(1)) const {
    const auto all = static_cast<R>(points_.size());
    std::size_t n = static_cast<std::size_t>(share * all + R(0.5));
    if (n < 3) n = points_.size() < 3 ? points_.size() : 3;
    if (n < 3) return std::numeric_limits<R>::quiet_NaN();
    std::array<R, N> newest{};
    for (std::size_t i = 0; i < n; ++i) {
      newest[i] = points_[points_.size() - n + i];
    }
    return slope_of(std::span<const R>(newest.data(), n)) * R(60000) /
           static_cast<R>(spacing_ms_);
  }
  /// The same from the oldest point to the newest: a step in between, of which
  /// least squares make up to half as much again, counts as what it is.
  [[nodiscard]] R end_to_end_per_minute() const {
    return (newest() - oldest()) * R(60000) /
           (static_cast<R>(points_.size() - 1) * static_cast<R>(spacing_ms_));
  }
  [[nodiscard]] R lowest() const {
    R low = std::numeric_limits<R>::infinity();
    for (std::size_t i = 0; i < points_.size(); ++i) {
      const R point = points_[i];
      if (point < low) low = point;
    }
    return low;
  }
  /// REQUIRES: a point was completed.
  [[nodiscard]] R newest() const { return points_.back(); }
  [[nodiscard]] R oldest() const { return points_.front(); }
  [[nodiscard]] std::size_t size() const { return points_.size(); }

 private:
  static constexpr auto kCellMs =
      static_cast<std::uint32_t>(kWindow.ms / std::int64_t{N});

  Ring<Kept, N> points_;
  R sum_ = R(0);
  std::uint32_t filled_ms_ = 0;
  std::uint32_t spacing_ms_ = 1;
};

}  // namespace telltale
