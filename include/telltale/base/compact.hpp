// Compact<R, Range>: a number, in two bytes where memory counts.
#pragma once

#include <concepts>
#include <type_traits>

#include "telltale/base/box.hpp"
#include "telltale/base/fixed16.hpp"

namespace telltale {

/// Reads and writes like an R. On the host it is one; on the box it is kept in
/// the even steps of `Range::kScale`, for the samples of a window.
template <std::floating_point R, class Range>
class Compact {
 public:
  constexpr Compact() = default;
  constexpr Compact(R x) : kept_(packed(x)) {}
  constexpr operator R() const {
    if constexpr (kOnBox<R>) {
      return kept_.template value<R>(Range::kScale);
    } else {
      return kept_;
    }
  }

  /// The less and the greater of two numbers, as kept.
  static constexpr Compact least(Compact a, Compact b) {
    a.kept_ = b.kept_ < a.kept_ ? b.kept_ : a.kept_;
    return a;
  }
  static constexpr Compact most(Compact a, Compact b) {
    a.kept_ = a.kept_ < b.kept_ ? b.kept_ : a.kept_;
    return a;
  }
  /// REQUIRES: both are numbers
  friend constexpr bool operator<(Compact a, Compact b) {
    return a.kept_ < b.kept_;
  }

 private:
  using Kept = std::conditional_t<kOnBox<R>, Fixed16, R>;

  static constexpr Kept packed(R x) {
    if constexpr (kOnBox<R>) {
      return Fixed16(x, Range::kScale);
    } else {
      return x;
    }
  }

  Kept kept_{};
};

/// 30 to 75 Hz in steps below 1 mHz.
struct HertzRange {
  static constexpr Fixed16::Scale kScale{30.0F, 0.0007F};
};
/// 0 to 655 % in hundredths: shares of a rating.
struct PercentRange {
  static constexpr Fixed16::Scale kScale{0.0F, 0.01F};
};
/// -60 to 759 degC in eightieths.
struct CelsiusRange {
  static constexpr Fixed16::Scale kScale{-60.0F, 0.0125F};
};

}  // namespace telltale
