// Points in time and spans of time, as two types that cannot be mixed.
#pragma once

#include <concepts>
#include <cstdint>
#include <limits>

#include "telltale/base/out_of_line.hpp"

namespace telltale {

/// A span of time in whole milliseconds. May be negative.
struct DurationMs {
  std::int64_t ms = 0;

  // Written out: what a defaulted <=> compiles to is no inline code for a small
  // controller, and these are compared everywhere.
  friend constexpr bool operator==(DurationMs, DurationMs) = default;
  friend constexpr bool operator<(DurationMs a, DurationMs b) {
    return a.ms < b.ms;
  }
  friend constexpr bool operator>(DurationMs a, DurationMs b) { return b < a; }
  friend constexpr bool operator<=(DurationMs a, DurationMs b) {
    return !(b < a);
  }
  friend constexpr bool operator>=(DurationMs a, DurationMs b) {
    return !(a < b);
  }
};

/// A point in time in milliseconds: since 1970-01-01T00:00Z on the host, since
/// power-on or any other fixed origin on a box. Never steps back within a run.
struct TimeMs {
  std::int64_t ms = 0;

  friend constexpr bool operator==(TimeMs, TimeMs) = default;
  friend constexpr bool operator<(TimeMs a, TimeMs b) { return a.ms < b.ms; }
  friend constexpr bool operator>(TimeMs a, TimeMs b) { return b < a; }
  friend constexpr bool operator<=(TimeMs a, TimeMs b) { return !(b < a); }
  friend constexpr bool operator>=(TimeMs a, TimeMs b) { return !(a < b); }
};

/// "No such time": earlier than every real time.
inline constexpr TimeMs kNoTime{std::numeric_limits<std::int64_t>::min()};

[[nodiscard]] constexpr bool is_set(TimeMs t) { return t != kNoTime; }

constexpr DurationMs operator-(TimeMs a, TimeMs b) { return {a.ms - b.ms}; }
constexpr TimeMs operator+(TimeMs t, DurationMs d) { return {t.ms + d.ms}; }
constexpr TimeMs operator-(TimeMs t, DurationMs d) { return {t.ms - d.ms}; }
constexpr DurationMs operator+(DurationMs a, DurationMs b) {
  return {a.ms + b.ms};
}
constexpr DurationMs operator-(DurationMs a, DurationMs b) {
  return {a.ms - b.ms};
}

/// A span as a number of milliseconds. In single precision by way of 32 bits,
/// since controllers convert no others: from 24 days on to the second.
template <std::floating_point R>
[[nodiscard]] TELLTALE_OUT_OF_LINE constexpr R in_ms(DurationMs span) {
  if constexpr (std::same_as<R, float>) {
    const auto whole = static_cast<std::int32_t>(span.ms);
    if (whole == span.ms) return static_cast<R>(whole);
    return static_cast<R>(static_cast<std::int32_t>(span.ms / 1024)) * R(1024);
  } else {
    return static_cast<R>(span.ms);
  }
}

[[nodiscard]] constexpr DurationMs seconds(std::int64_t s) {
  return {s * 1000};
}
[[nodiscard]] constexpr DurationMs minutes(std::int64_t m) {
  return {m * 60 * 1000};
}
[[nodiscard]] constexpr DurationMs hours(std::int64_t h) {
  return {h * 60 * 60 * 1000};
}

}  // namespace telltale
