// BoxTime, BoxSpan: points in time and spans in 32 bits, where memory counts.
#pragma once

#include <concepts>
#include <cstdint>
#include <type_traits>

#include "telltale/base/box.hpp"
#include "telltale/base/time.hpp"

namespace telltale {

/// A span of time in whole milliseconds, up to 24 days either way.
struct BoxSpan {
  std::int32_t ms = 0;

  constexpr BoxSpan() = default;
  constexpr BoxSpan(std::integral auto span)
      : ms(static_cast<std::int32_t>(span)) {}
  constexpr BoxSpan(DurationMs span) : BoxSpan(span.ms) {}

  friend constexpr bool operator==(BoxSpan, BoxSpan) = default;
  friend constexpr bool operator<(BoxSpan a, BoxSpan b) { return a.ms < b.ms; }
  friend constexpr bool operator>(BoxSpan a, BoxSpan b) { return b < a; }
  friend constexpr bool operator<=(BoxSpan a, BoxSpan b) { return !(b < a); }
  friend constexpr bool operator>=(BoxSpan a, BoxSpan b) { return !(a < b); }
  friend constexpr BoxSpan operator+(BoxSpan a, BoxSpan b) {
    return {a.ms + b.ms};
  }
  friend constexpr BoxSpan operator-(BoxSpan a, BoxSpan b) {
    return {a.ms - b.ms};
  }
};

/// The low bits of a point in time, to two milliseconds: only 0, which stands
/// for "no such time", is even. Two of them compare rightly while they lie
/// less than 24 days apart.
class BoxTime {
 public:
  constexpr BoxTime() = default;
  constexpr BoxTime(TimeMs at)
      : low_(is_set(at) ? static_cast<std::uint32_t>(at.ms) | 1U : 0U) {}

  /// Of a time that is set.
  static constexpr BoxTime of(TimeMs at) {
    return BoxTime(static_cast<std::uint32_t>(at.ms));
  }

  [[nodiscard]] friend constexpr bool is_set(BoxTime t) { return t.low_ != 0; }
  /// Milliseconds, as a LowStamp keeps them.
  [[nodiscard]] constexpr std::uint32_t low() const { return low_; }
  /// The full time. REQUIRES: less than 24 days from `now`
  [[nodiscard]] constexpr TimeMs full(TimeMs now) const {
    if (low_ == 0) return kNoTime;
    return now - DurationMs{(of(now) - *this).ms};
  }

  friend constexpr bool operator==(BoxTime, BoxTime) = default;
  friend constexpr bool operator<(BoxTime a, BoxTime b) {
    return (a - b).ms < 0;
  }
  friend constexpr bool operator>(BoxTime a, BoxTime b) { return b < a; }
  friend constexpr bool operator<=(BoxTime a, BoxTime b) { return !(b < a); }
  friend constexpr bool operator>=(BoxTime a, BoxTime b) { return !(a < b); }
  friend constexpr BoxSpan operator-(BoxTime a, BoxTime b) {
    return {static_cast<std::int32_t>(a.low_ - b.low_)};
  }
  friend constexpr BoxTime operator+(BoxTime t, BoxSpan span) {
    return BoxTime(t.low_ + static_cast<std::uint32_t>(span.ms));
  }
  friend constexpr BoxTime operator-(BoxTime t, BoxSpan span) {
    return BoxTime(t.low_ - static_cast<std::uint32_t>(span.ms));
  }

 private:
  constexpr explicit BoxTime(std::uint32_t low) : low_(low | 1U) {}

  std::uint32_t low_ = 0;
};

/// Times and spans of what judges in that arithmetic: 64 bits on the host, 32
/// on the box.
template <std::floating_point R>
using TimeOf = std::conditional_t<kOnBox<R>, BoxTime, TimeMs>;
template <std::floating_point R>
using SpanOf = std::conditional_t<kOnBox<R>, BoxSpan, DurationMs>;

/// A span that may be longer than a box keeps: cut to 20 days.
template <std::floating_point R>
constexpr SpanOf<R> kept_span(DurationMs span) {
  if constexpr (kOnBox<R>) {
    constexpr DurationMs kMost = hours(20 * 24);
    return span < kMost ? span : kMost;
  } else {
    return span;
  }
}
/// A time that is set is brought to 20 days ago where it lies longer back:
/// a box would take it for a time to come later.
template <std::floating_point R>
constexpr void keep_young([[maybe_unused]] TimeOf<R>& t,
                          [[maybe_unused]] TimeOf<R> now) {
  if constexpr (kOnBox<R>) {
    constexpr BoxSpan kMost = hours(20 * 24);
    if (is_set(t) && now - t > kMost) t = now - kMost;
  }
}

constexpr TimeMs full(TimeMs t, TimeMs /*now*/) { return t; }
constexpr TimeMs full(BoxTime t, TimeMs now) { return t.full(now); }

/// See in_ms() of a DurationMs.
template <std::floating_point R>
[[nodiscard]] constexpr R in_ms(BoxSpan span) {
  return static_cast<R>(span.ms);
}

}  // namespace telltale
