// Stamp and ShortStamp: points in time kept in four and in two bytes.
#pragma once

#include <concepts>
#include <cstdint>

#include "telltale/base/box_time.hpp"
#include "telltale/base/time.hpp"

namespace telltale {

/// The low bits of a time in milliseconds. Given a present moment less than
/// one lap of them later the full time comes back exactly; for state that a
/// box keeps by the dozen.
template <std::unsigned_integral Low>
class LowStamp {
 public:
  constexpr LowStamp() = default;
  constexpr explicit LowStamp(TimeMs at) : low_(static_cast<Low>(at.ms)) {}
  constexpr explicit LowStamp(BoxTime at) : low_(static_cast<Low>(at.low())) {}

  /// Milliseconds from the stamp to `now`.
  [[nodiscard]] constexpr DurationMs age(TimeMs now) const {
    return {static_cast<Low>(static_cast<Low>(now.ms) - low_)};
  }
  [[nodiscard]] constexpr BoxSpan age(BoxTime now) const {
    return {static_cast<Low>(static_cast<Low>(now.low()) - low_)};
  }
  /// The full time. REQUIRES: the stamp is less than a lap before `now`.
  template <class Time>
  [[nodiscard]] constexpr Time full(Time now) const {
    return now - age(now);
  }

 private:
  Low low_ = 0;
};

/// Good for 49 days.
using Stamp = LowStamp<std::uint32_t>;
/// Good for 65 seconds.
using ShortStamp = LowStamp<std::uint16_t>;

}  // namespace telltale
