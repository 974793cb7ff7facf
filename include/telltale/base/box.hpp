// kOnBox<R> and room<R>(): what is smaller where memory is counted in
// kilobytes.
#pragma once

#include <concepts>
#include <cstddef>

namespace telltale {

/// Single precision is the box's arithmetic, double the host's.
template <std::floating_point R>
inline constexpr bool kOnBox = std::same_as<R, float>;

/// A capacity: `host` in double precision, `box` in single.
template <std::floating_point R>
constexpr std::size_t room(std::size_t host, std::size_t box) {
  return kOnBox<R> ? box : host;
}

}  // namespace telltale
