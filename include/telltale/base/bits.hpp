// for_each_bit: a loop over the members of a set kept in a word.
#pragma once

#include <bit>
#include <cstddef>
#include <cstdint>

namespace telltale {

/// Calls f(index) for every bit that is set, lowest first. Always inline: as a
/// call the loop would reach everything through the closure.
template <class F>
[[gnu::always_inline]] constexpr void for_each_bit(std::uint32_t set, F&& f) {
  for (std::uint32_t rest = set; rest != 0; rest &= rest - 1U) {
    f(static_cast<std::size_t>(std::countr_zero(rest)));
  }
}

}  // namespace telltale
