// Ewma<R>: exponential average by time constant, for any sampling.
#pragma once

#include <cmath>
#include <concepts>

#include "telltale/base/time.hpp"

namespace telltale {

/// A first-order low-pass for unevenly spaced samples: each new value counts
/// for the step that led to it, with weight 1 - exp(-dt / tau) ("next point"
/// in Eckner, Algorithms for unevenly spaced time series). A sample that comes
/// twice at one time changes nothing.
template <std::floating_point R>
class Ewma {
 public:
  /// tau: time constant, above 0 ms. A half-life h is tau = h / ln 2.
  constexpr explicit Ewma(DurationMs tau) : tau_(tau) {}

  /// REQUIRES: at does not step back, x is finite.
  void add(TimeMs at, R x) {
    if (!is_set(last_)) {
      value_ = x;
    } else {
      const DurationMs step = at - last_;
      // Sampling is mostly regular: the weight is worth keeping.
      if (step != weighed_step_) {
        weighed_step_ = step;
        weight_ = -std::expm1(-in_ms<R>(step) / in_ms<R>(tau_));
      }
      value_ += weight_ * (x - value_);
    }
    last_ = at;
  }
  constexpr void reset() {
    last_ = kNoTime;
    value_ = R(0);
  }

  [[nodiscard]] constexpr bool empty() const { return !is_set(last_); }
  /// REQUIRES: !empty()
  [[nodiscard]] constexpr R value() const { return value_; }

 private:
  DurationMs tau_;
  DurationMs weighed_step_{-1};
  TimeMs last_ = kNoTime;
  R weight_ = R(0);
  R value_ = R(0);
};

}  // namespace telltale
