// Memory that another core has written or read last, asked for before it is
// needed.
#pragma once

#include <cstddef>
#include <cstdint>

namespace telltale::host {

namespace detail {
/// Bytes of a line of the cache; where lines are longer some are asked for
/// twice, where they are shorter some are not.
inline constexpr std::size_t kLine = 64;

/// As a number: it may lie beyond the end of what there is.
template <class T>
const char* address_of(const T* first, std::size_t i) {
  const auto address = reinterpret_cast<std::uintptr_t>(first) + i * sizeof(T);
  return reinterpret_cast<const char*>(address);  // NOLINT: never read through
}
}  // namespace detail

enum class Use : std::uint8_t { reading, writing };

/// The i-th from `first` on will soon be used; for writing other cores are to
/// give it up.
template <Use kUse, class T>
[[gnu::always_inline]] inline void expect(const T* first, std::size_t i) {
  const char* const bytes = detail::address_of(first, i);
  for (std::size_t at = 0; at < sizeof(T); at += detail::kLine) {
    __builtin_prefetch(bytes + at, kUse == Use::writing ? 1 : 0);
  }
}

}  // namespace telltale::host
