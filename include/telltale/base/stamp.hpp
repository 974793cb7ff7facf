// Stamp: a point in time kept in four bytes.
#pragma once

#include <cstdint>

#include "telltale/base/time.hpp"

namespace telltale {

/// The low 32 bits of a time in milliseconds. Given a present moment less than
/// 49 days later, the full time comes back exactly; for state that a box keeps
/// by the dozen.
class Stamp {
 public:
  constexpr Stamp() = default;
  constexpr explicit Stamp(TimeMs at)
      : low_(static_cast<std::uint32_t>(at.ms)) {}

  /// Milliseconds from the stamp to `now`.
  [[nodiscard]] constexpr DurationMs age(TimeMs now) const {
    return {static_cast<std::uint32_t>(now.ms) - low_};
  }
  /// The full time. REQUIRES: the stamp is less than 49 days before `now`.
  [[nodiscard]] constexpr TimeMs full(TimeMs now) const {
    return now - age(now);
  }

 private:
  std::uint32_t low_ = 0;
};

}  // namespace telltale
