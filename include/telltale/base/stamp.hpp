// Stamps: points in time kept in four bytes and less.
#pragma once

#include <concepts>
#include <cstdint>

#include "telltale/base/box_time.hpp"
#include "telltale/base/time.hpp"

namespace telltale {

/// The low bits of a time, in units of 2^kShift milliseconds. Given a present
/// moment less than one lap of them later the full time comes back, to a unit;
/// for state that a box keeps by the dozen.
template <std::unsigned_integral Low, unsigned kShift = 0>
class LowStamp {
 public:
  constexpr LowStamp() = default;
  constexpr explicit LowStamp(TimeMs at)
      : low_(static_cast<Low>(at.ms >> kShift)) {}
  constexpr explicit LowStamp(BoxTime at)
      : low_(static_cast<Low>(at.low() >> kShift)) {}

  /// Milliseconds from the stamp to `now`.
  [[nodiscard]] constexpr DurationMs age(TimeMs now) const {
    return {std::int64_t{units_to(LowStamp(now))} << kShift};
  }
  [[nodiscard]] constexpr BoxSpan age(BoxTime now) const {
    return {std::uint32_t{units_to(LowStamp(now))} << kShift};
  }
  /// The full time. REQUIRES: the stamp is less than a lap before `now`.
  template <class Time>
  [[nodiscard]] constexpr Time full(Time now) const {
    return now - age(now);
  }

 private:
  [[nodiscard]] constexpr Low units_to(LowStamp now) const {
    return static_cast<Low>(now.low_ - low_);
  }

  Low low_ = 0;
};

/// Good for 49 days.
using Stamp = LowStamp<std::uint32_t>;
/// Good for 65 seconds.
using ShortStamp = LowStamp<std::uint16_t>;
/// To an eighth of a second, good for two hours.
using EighthStamp = LowStamp<std::uint16_t, 7>;

}  // namespace telltale
