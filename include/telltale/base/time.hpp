// Points in time and spans of time, as two types that cannot be mixed.
#pragma once

#include <compare>
#include <cstdint>
#include <limits>

namespace telltale {

/// A span of time in whole milliseconds. May be negative.
struct DurationMs {
  std::int64_t ms = 0;

  friend constexpr auto operator<=>(DurationMs, DurationMs) = default;
};

/// A point in time in milliseconds: since 1970-01-01T00:00Z on the host, since
/// power-on or any other fixed origin on a box. Never steps back within a run.
struct TimeMs {
  std::int64_t ms = 0;

  friend constexpr auto operator<=>(TimeMs, TimeMs) = default;
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
