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
#include "telltale/base/out_of_line.hpp"
#include "telltale/base/ring.hpp"
#include "telltale/base/time.hpp"
#include "telltale/condition/open_mean.hpp"

namespace telltale {

/// What slope windows of any size have in common; the points lie outside, in
/// `kept`.
template <std::floating_point R, class Kept>
class SlopeWindowCore {
 public:
  /// See SlopeWindow; a point stands for `cell_ms`.
  TELLTALE_OUT_OF_LINE bool add(std::span<Kept> kept, std::uint32_t cell_ms,
                                SpanOf<R> length, R x) {
    const std::uint32_t spacing_ms =
        open_.filled_ms() + static_cast<std::uint32_t>(length.ms);
    R mean = R(0);
    if (!open_.add(length, x, cell_ms, mean)) return false;
    spacing_ms_ = spacing_ms;
    kept[places_.add(kept.size())] = mean;
    return true;
  }
  void clear() {
    places_.clear();
    open_.clear();
  }
  [[nodiscard]] std::size_t size() const { return places_.size(); }
  /// `window_ms`: the whole of it.
  [[nodiscard]] TELLTALE_OUT_OF_LINE bool full(std::uint32_t window_ms) const {
    return size() >= 3 && std::uint64_t{spacing_ms_} * size() >= window_ms;
  }
  [[nodiscard]] R spacing_ms() const { return static_cast<R>(spacing_ms_); }
  /// Point i counted from the oldest. REQUIRES: i < size()
  [[nodiscard]] R point(std::span<const Kept> kept, std::size_t i) const {
    return kept[places_.slot(i, kept.size())];
  }
  [[nodiscard]] TELLTALE_OUT_OF_LINE R per_minute(std::span<const Kept> kept,
                                                  R share) const {
    const auto all = static_cast<R>(size());
    std::size_t n = static_cast<std::size_t>(share * all + R(0.5));
    if (n < 3) n = size() < 3 ? size() : 3;
    if (n < 3) return std::numeric_limits<R>::quiet_NaN();
    return slope(kept, n) * R(60000) / spacing_ms();
  }

 private:
  /// Least-squares slope per point through the newest `n`.
  [[nodiscard]] R slope(std::span<const Kept> kept, std::size_t n) const {
    const std::size_t first = size() - n;
    const R origin = point(kept, first);
    const R middle = static_cast<R>(n - 1) * R(0.5);
    R ty = R(0);
    R tt = R(0);
    for (std::size_t i = 0; i < n; ++i) {
      const R t = static_cast<R>(i) - middle;
      ty += t * (point(kept, first + i) - origin);
      tt += t * t;
    }
    return ty / tt;
  }

  RingPlaces places_;
  OpenMean<R> open_;
  std::uint32_t spacing_ms_ = 1;
};

/// N means of window / N each (or one reading, if those come less often), and
/// the least-squares slope through them. Points count as evenly spaced.
/// `Kept`: as what a point is kept, R or something that reads like one.
template <std::floating_point R, std::size_t N, DurationMs kWindow,
          class Kept = R>
class SlopeWindow {
 public:
  /// A mean that stands for `length`. True when that completed a point.
  bool add(SpanOf<R> length, R x) {
    return core_.add(kept_, kCellMs, length, x);
  }
  void clear() { core_.clear(); }

  /// Enough points to speak of the whole window.
  [[nodiscard]] bool full() const { return core_.full(kCellMs * N); }
  /// Per minute, over the newest `share` of the window (1: all of it). NaN
  /// below three points.
  [[nodiscard]] R per_minute(R share = R(1)) const {
    return core_.per_minute(kept_, share);
  }
  /// The same from the oldest point to the newest: a step in between, of which
  /// least squares make up to half as much again, counts as what it is.
  [[nodiscard]] R end_to_end_per_minute() const {
    return (newest() - oldest()) * R(60000) /
           (static_cast<R>(size() - 1) * core_.spacing_ms());
  }
  [[nodiscard]] R lowest() const {
    R low = std::numeric_limits<R>::infinity();
    for (std::size_t i = 0; i < size(); ++i) {
      const R point = core_.point(kept_, i);
      if (point < low) low = point;
    }
    return low;
  }
  /// REQUIRES: a point was completed.
  [[nodiscard]] R newest() const { return core_.point(kept_, size() - 1); }
  [[nodiscard]] R oldest() const { return core_.point(kept_, 0); }
  [[nodiscard]] std::size_t size() const { return core_.size(); }

 private:
  static constexpr auto kCellMs =
      static_cast<std::uint32_t>(kWindow.ms / std::int64_t{N});

  std::array<Kept, N> kept_{};
  SlopeWindowCore<R, Kept> core_;
};

}  // namespace telltale
