// Fixed16: a number kept in two bytes, in even steps over a known range.
#pragma once

#include <concepts>
#include <cstdint>
#include <limits>

namespace telltale {

/// Code 0 is "no number"; 1 to 65535 stand for low + (code - 1) * step. What
/// lies outside the range is kept as the nearest end of it.
class Fixed16 {
 public:
  /// `step` > 0. The range is low .. low + 65534 * step.
  struct Scale {
    float low = 0.0F;
    float step = 1.0F;
  };

  constexpr Fixed16() = default;
  template <std::floating_point R>
  constexpr Fixed16(R x, const Scale& scale) {
    if (!(x == x)) return;
    const R place =
        (x - static_cast<R>(scale.low)) / static_cast<R>(scale.step);
    constexpr R kMost = R(65534);
    const R inside = place < R(0) ? R(0) : place > kMost ? kMost : place;
    code_ = static_cast<std::uint16_t>(
        static_cast<std::uint32_t>(inside + R(0.5)) + 1U);
  }

  /// As it is kept.
  [[nodiscard]] constexpr std::uint16_t code() const { return code_; }
  static constexpr Fixed16 of(std::uint16_t code) {
    Fixed16 out;
    out.code_ = code;
    return out;
  }
  /// By size, on the same scale; no number is less than all.
  friend constexpr bool operator<(Fixed16 a, Fixed16 b) {
    return a.code_ < b.code_;
  }
  /// NaN where there is no number.
  template <std::floating_point R>
  [[nodiscard]] constexpr R value(const Scale& scale) const {
    if (code_ == 0) return std::numeric_limits<R>::quiet_NaN();
    return static_cast<R>(scale.low) +
           static_cast<R>(code_ - 1) * static_cast<R>(scale.step);
  }

 private:
  std::uint16_t code_ = 0;
};

}  // namespace telltale
