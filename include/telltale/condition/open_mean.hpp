// OpenMean<R>: a mean over time that is still being gathered.
#pragma once

#include <concepts>
#include <cstdint>

#include "telltale/base/box_time.hpp"
#include "telltale/base/out_of_line.hpp"

namespace telltale {

/// Weighs every input by the time it stands for; complete when it stands for
/// `needed_ms` or more, and then begun anew.
template <std::floating_point R>
class OpenMean {
 public:
  /// One input that stands for `length`. True when that completed `mean`.
  /// REQUIRES: x is finite.
  TELLTALE_OUT_OF_LINE bool add(SpanOf<R> length, R x, std::uint32_t needed_ms,
                                R& mean) {
    sum_ += x * in_ms<R>(length);
    filled_ms_ += static_cast<std::uint32_t>(length.ms);
    if (filled_ms_ < needed_ms) return false;
    mean = sum_ / static_cast<R>(filled_ms_);
    clear();
    return true;
  }
  void clear() { *this = {}; }

  /// Of the inputs so far, each times its milliseconds.
  [[nodiscard]] R sum() const { return sum_; }
  [[nodiscard]] std::uint32_t filled_ms() const { return filled_ms_; }

 private:
  R sum_ = R(0);
  std::uint32_t filled_ms_ = 0;
};

}  // namespace telltale
