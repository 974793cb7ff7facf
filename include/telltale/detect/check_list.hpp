// CheckList<Checks...>: a list of checks as a type, and what can be asked of
// it.
#pragma once

#include <array>
#include <concepts>
#include <cstddef>
#include <cstdint>

#include "telltale/detect/check.hpp"

namespace telltale {

/// The full list is AllChecks (detect/checks/all.hpp); a box names its own.
template <template <class> class... Cs>
struct CheckList {
  static constexpr std::size_t kSize = sizeof...(Cs);

  /// The ids of the checks, in order.
  template <std::floating_point R>
  static constexpr std::array<std::uint16_t, kSize> ids() {
    return {Cs<R>::info.id...};
  }
  /// The bytes that each of them keeps.
  template <std::floating_point R>
  static constexpr std::array<std::uint32_t, kSize> sizes() {
    return {sizeof(Cs<R>)...};
  }

  static_assert((Check<Cs, float> && ...),
                "each of the list must satisfy the Check concept");
  static_assert(
      [] {
        const std::array<std::uint16_t, kSize> ids = {Cs<float>::info.id...};
        for (std::size_t i = 0; i < kSize; ++i) {
          for (std::size_t j = i + 1; j < kSize; ++j) {
            if (ids[i] == ids[j]) return false;
          }
        }
        return true;
      }(),
      "two checks of the list have the same id");
};

}  // namespace telltale
