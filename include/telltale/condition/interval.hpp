// Interval: the usual time between scans, learnt as they come.
#pragma once

#include <algorithm>
#include <array>
#include <cstddef>
#include <cstdint>
#include <span>

#include "telltale/base/insertion_sort.hpp"
#include "telltale/base/out_of_line.hpp"
#include "telltale/base/time.hpp"

namespace telltale {

/// A running median of the last nine steps: gaps do not move it, a lasting
/// slowing down does within five scans. Two steps in a row at less than half
/// the median are a logger that has speeded up: it is believed at once.
class Interval {
 public:
  /// `expected_s`: the interval if it is known, NaN if not.
  void reset(float expected_s) {
    next_ = filled_ = 0;
    quicker_ = false;
    median_ms_ = expected_s == expected_s
                     ? static_cast<std::int32_t>(expected_s * 1000.0F)
                     : 0;
  }
  TELLTALE_OUT_OF_LINE void add(DurationMs dt) {
    if (dt.ms <= 0) return;
    const auto step = static_cast<std::int32_t>(
        std::min<std::int64_t>(dt.ms, std::int64_t{1} << 30));
    steps_[next_] = step;
    next_ = static_cast<std::uint8_t>((next_ + 1U) % kKept);
    if (filled_ < kKept) ++filled_;
    // Regular sampling needs no sorting.
    if (step == median_ms_) {
      quicker_ = false;
      return;
    }
    const bool quicker = step * 2 < median_ms_;
    if (quicker && quicker_) {
      filled_ = next_ = 0;
      median_ms_ = step;
      quicker_ = false;
      return;
    }
    quicker_ = quicker;
    auto sorted = steps_;
    insertion_sort(std::span(sorted).first(filled_));
    if (filled_ >= kEnough || median_ms_ == 0) {
      median_ms_ = sorted[filled_ / 2U];
    }
  }

  /// 0 until two scans were seen and nothing was expected.
  [[nodiscard]] DurationMs value() const { return {median_ms_}; }
  /// No samples for more than ten intervals and more than 10 s.
  [[nodiscard]] bool is_gap(DurationMs dt) const {
    return dt > seconds(10) && dt.ms > std::int64_t{10} * median_ms_ &&
           median_ms_ > 0;
  }

 private:
  static constexpr std::size_t kKept = 9;
  static constexpr std::size_t kEnough = 5;

  std::array<std::int32_t, kKept> steps_{};
  std::int32_t median_ms_ = 0;
  std::uint8_t next_ = 0;
  std::uint8_t filled_ = 0;
  bool quicker_ = false;  // the step before was less than half the median
};

}  // namespace telltale
