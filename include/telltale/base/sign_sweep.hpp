// Questions to many numbers without a branch for each.
#pragma once

#include <bit>
#include <concepts>
#include <cstdint>
#include <limits>
#include <type_traits>

namespace telltale {

/// The bits of a number.
template <std::floating_point R>
using BitsOf = std::conditional_t<sizeof(R) == sizeof(std::uint32_t),
                                  std::uint32_t, std::uint64_t>;

/// 1 where x is above 0, else 0. REQUIRES: x is not negative; NaN may give
/// either.
template <std::floating_point R>
constexpr std::uint32_t above_zero(R x) {
  using Bits = BitsOf<R>;
  constexpr int kSign = std::numeric_limits<Bits>::digits - 1;
  // All bits but the sign: added to anything but 0 they carry into it.
  constexpr Bits kOthers = std::numeric_limits<Bits>::max() / 2;
  return static_cast<std::uint32_t>((std::bit_cast<Bits>(x) + kOthers) >>
                                    kSign);
}

/// Whether any of many differences is negative, by the sign bits of what is
/// added: a loop over it goes through vector registers. NaN counts by its sign:
/// there is none on the one that stands for "no reading".
template <std::floating_point R>
class SignSweep {
 public:
  void add(R difference) { signs_ |= std::bit_cast<BitsOf<R>>(difference); }
  [[nodiscard]] bool any_negative() const {
    return signs_ >> (std::numeric_limits<BitsOf<R>>::digits - 1) != 0;
  }

 private:
  BitsOf<R> signs_ = 0;
};

}  // namespace telltale
