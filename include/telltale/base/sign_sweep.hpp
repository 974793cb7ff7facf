// SignSweep<R>: whether any of many differences is negative.
#pragma once

#include <bit>
#include <concepts>
#include <cstdint>
#include <limits>
#include <type_traits>

namespace telltale {

/// By the sign bits of what is added: a loop over it has no branch and goes
/// through vector registers. NaN counts by its sign: there is none on the one
/// that stands for "no reading".
template <std::floating_point R>
class SignSweep {
 public:
  void add(R difference) { signs_ |= std::bit_cast<Bits>(difference); }
  [[nodiscard]] bool any_negative() const {
    return signs_ >> (std::numeric_limits<Bits>::digits - 1) != 0;
  }

 private:
  using Bits = std::conditional_t<sizeof(R) == sizeof(std::uint32_t),
                                  std::uint32_t, std::uint64_t>;
  static_assert(sizeof(Bits) == sizeof(R));

  Bits signs_ = 0;
};

}  // namespace telltale
