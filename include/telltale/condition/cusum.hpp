// Cusum<R>: two-sided tabular CUSUM.
#pragma once

#include <cmath>
#include <concepts>
#include <cstdint>

namespace telltale {

/// Tabular CUSUM (NIST/SEMATECH e-Handbook 6.3.2.3): sums of what goes beyond
/// `slack` on either side of `target`; a signal when a sum exceeds `decision`.
/// With slack = 0.5 sigma and decision = 5 sigma a false signal comes once in
/// 465 independent normal samples on average; far more often when samples are
/// autocorrelated, as 1 Hz readings are: feed it spaced means.
template <std::floating_point R>
class Cusum {
 public:
  /// All three in the unit of the samples; slack >= 0, decision > 0.
  constexpr Cusum(R target, R slack, R decision)
      : target_(target), slack_(slack), decision_(decision) {}

  /// Returns +1 or -1 while the upper or lower sum signals, else 0.
  constexpr int add(R x) {
    step(high_, high_count_, x - target_ - slack_);
    step(low_, low_count_, target_ - slack_ - x);
    if (high_ > decision_) return 1;
    return low_ > decision_ ? -1 : 0;
  }
  constexpr void reset() {
    high_ = low_ = R(0);
    high_count_ = low_count_ = 0;
  }

  [[nodiscard]] constexpr R high() const { return high_; }
  [[nodiscard]] constexpr R low() const { return low_; }
  /// Samples since the upper or lower sum last stood at zero: the shift began
  /// after the sample that many back.
  [[nodiscard]] constexpr std::uint32_t high_run() const { return high_count_; }
  [[nodiscard]] constexpr std::uint32_t low_run() const { return low_count_; }

 private:
  static constexpr void step(R& sum, std::uint32_t& run, R excess) {
    sum = sum + excess > R(0) ? sum + excess : R(0);
    run = sum > R(0) ? run + 1U : 0U;
  }

  R target_, slack_, decision_;
  R high_ = R(0), low_ = R(0);
  std::uint32_t high_count_ = 0, low_count_ = 0;
};

}  // namespace telltale
