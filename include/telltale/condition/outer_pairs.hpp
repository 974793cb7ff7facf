// OuterPairs<R, Kept>: quantiles near the ends of a few values, in one look at
// each.
#pragma once

#include <concepts>
#include <cstddef>

namespace telltale {

/// Keeps the two lowest and the two highest of some values: what quantiles need
/// that lie between them. `Kept`: as what the values come, R or something that
/// reads and orders like one.
template <std::floating_point R, class Kept = R>
class OuterPairs {
 public:
  constexpr void add(Kept x) {
    if (size_++ < 2) {
      begin(x);
      return;
    }
    if (x < low_) {
      low_ = x < lowest_ ? lowest_ : x;
      if (x < lowest_) lowest_ = x;
    }
    if (high_ < x) {
      high_ = highest_ < x ? highest_ : x;
      if (highest_ < x) highest_ = x;
    }
  }

  /// The p-quantile, by linear interpolation between order statistics (type 7
  /// of Hyndman and Fan 1996). REQUIRES: two values or more, p (n - 1) < 1
  [[nodiscard]] constexpr R lower(R p) const {
    return R(lowest_) + p * last() * (R(low_) - R(lowest_));
  }
  /// The same for p near 1. REQUIRES: two values or more, (1 - p) (n - 1) < 1
  [[nodiscard]] constexpr R upper(R p) const {
    const R fraction = p * last() - (last() - R(1));
    return R(high_) + fraction * (R(highest_) - R(high_));
  }

  /// REQUIRES: two values or more
  [[nodiscard]] constexpr R second_lowest() const { return R(low_); }
  [[nodiscard]] constexpr R second_highest() const { return R(high_); }

 private:
  [[nodiscard]] constexpr R last() const { return static_cast<R>(size_ - 1U); }
  /// One of the first two.
  constexpr void begin(Kept x) {
    if (size_ == 1) {
      lowest_ = highest_ = x;
      return;
    }
    const bool below = x < lowest_;
    low_ = below ? lowest_ : x;
    high_ = below ? x : highest_;
    (below ? lowest_ : highest_) = x;
  }

  Kept lowest_{}, low_{};
  Kept high_{}, highest_{};
  std::size_t size_ = 0;
};

}  // namespace telltale
