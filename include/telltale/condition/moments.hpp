// Moments<R>: mean, spread and extremes of all samples so far.
#pragma once

#include <cmath>
#include <concepts>
#include <cstdint>
#include <limits>

#include "telltale/base/compensated.hpp"

namespace telltale {

/// Welford's update (Technometrics 4, 1962) with both running quantities
/// compensated, so that single precision still holds after ten million
/// samples: the plain update stops moving once (x - mean) / n falls below the
/// mean's last bit.
template <std::floating_point R>
class Moments {
 public:
  /// REQUIRES: x is finite.
  constexpr void add(R x) {
    ++count_;
    const R deviation = x - mean_.value();
    mean_.add(deviation / static_cast<R>(count_));
    squares_.add(deviation * (x - mean_.value()));
    if (x < min_) min_ = x;
    if (x > max_) max_ = x;
  }
  constexpr void reset() { *this = {}; }

  [[nodiscard]] constexpr std::uint32_t count() const { return count_; }
  /// NaN while empty.
  [[nodiscard]] constexpr R mean() const {
    return count_ > 0 ? mean_.value() : kNone;
  }
  /// Sample variance, divisor n - 1; NaN below two samples.
  [[nodiscard]] constexpr R variance() const {
    if (count_ < 2) return kNone;
    const R v = squares_.value() / static_cast<R>(count_ - 1);
    return v > R(0) ? v : R(0);
  }
  [[nodiscard]] R sd() const { return std::sqrt(variance()); }
  /// +-infinity while empty.
  [[nodiscard]] constexpr R min() const { return min_; }
  [[nodiscard]] constexpr R max() const { return max_; }

 private:
  static constexpr R kNone = std::numeric_limits<R>::quiet_NaN();

  CompensatedSum<R> mean_;
  CompensatedSum<R> squares_;
  R min_ = std::numeric_limits<R>::infinity();
  R max_ = -std::numeric_limits<R>::infinity();
  std::uint32_t count_ = 0;
};

}  // namespace telltale
