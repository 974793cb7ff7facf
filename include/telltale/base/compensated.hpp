// CompensatedSum<R>: a running sum that keeps what rounding would lose.
#pragma once

#include <concepts>

namespace telltale {

/// Kahan-Babuska summation (Neumaier 1974): the error of the sum does not grow
/// with the number of terms. Needs a compiler that keeps to the written order
/// of operations: no -ffast-math.
template <std::floating_point R>
class CompensatedSum {
 public:
  constexpr void add(R term) {
    const R next = sum_ + term;
    const R big = magnitude(sum_) >= magnitude(term) ? sum_ : term;
    const R small = magnitude(sum_) >= magnitude(term) ? term : sum_;
    lost_ += (big - next) + small;
    sum_ = next;
  }
  [[nodiscard]] constexpr R value() const { return sum_ + lost_; }
  constexpr void reset() { sum_ = lost_ = R(0); }

 private:
  static constexpr R magnitude(R x) { return x < R(0) ? -x : x; }

  R sum_ = R(0);
  R lost_ = R(0);
};

}  // namespace telltale
