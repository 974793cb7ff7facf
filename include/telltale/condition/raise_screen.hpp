// RaiseScreen<N>: N raises of one alarm within a while.
#pragma once

#include <cstddef>
#include <cstdint>

#include "telltale/base/ring.hpp"
#include "telltale/base/time.hpp"

namespace telltale {

/// The screening rule for chatter of ISA-18.2 and the alarm handbooks: three
/// raises within 60 s. It and the chattering index (run_lengths.hpp) do not
/// find the same alarms: raises at 0, 30 and 59 s meet the rule and have an
/// index of 0.034. Both are told, each by its name.
template <std::size_t N = 3>
requires(N >= 2) class RaiseScreen {
 public:
  static constexpr DurationMs kWithin = seconds(60);

  constexpr explicit RaiseScreen(DurationMs within = kWithin)
      : within_(within) {}

  /// The alarm came; whether this raise completes N within the while, both ends
  /// counted. REQUIRES: times do not step back.
  constexpr bool raise(TimeMs at) {
    raises_.push(at);
    const bool hit = raises_.full() && at - raises_.front() <= within_;
    if (hit) {
      // Raises of a burst that goes on belong to the same burst.
      const bool goes_on = hits_ > 0 && raises_.front() <= last_hit_;
      if (!goes_on) {
        first_of_burst_ = raises_.front();
        ++bursts_;
      }
      last_hit_ = at;
      ++hits_;
    }
    return hit;
  }

  /// Raises that completed N within the while.
  [[nodiscard]] constexpr std::uint32_t hits() const { return hits_; }
  /// Stretches of chatter: hits that share raises are one.
  [[nodiscard]] constexpr std::uint32_t bursts() const { return bursts_; }
  /// The first raise of the latest stretch, and its latest raise.
  /// REQUIRES: bursts() > 0
  [[nodiscard]] constexpr TimeMs burst_from() const { return first_of_burst_; }
  [[nodiscard]] constexpr TimeMs burst_to() const { return last_hit_; }

 private:
  Ring<TimeMs, N> raises_;
  DurationMs within_;
  TimeMs first_of_burst_ = kNoTime;
  TimeMs last_hit_ = kNoTime;
  std::uint32_t hits_ = 0;
  std::uint32_t bursts_ = 0;
};

}  // namespace telltale
