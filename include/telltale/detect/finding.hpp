// Finding<R>: a check's answer when it is worth a person's time.
#pragma once

#include <array>
#include <concepts>
#include <cstdint>
#include <limits>

#include "telltale/acquire/channel.hpp"
#include "telltale/acquire/unit.hpp"
#include "telltale/base/box_time.hpp"
#include "telltale/base/time.hpp"
#include "telltale/detect/severity.hpp"

namespace telltale {

/// What happened to a finding just now.
enum class FindingEvent : std::uint8_t {
  opened,    // first reached a severity
  worsened,  // reached a higher one
  closed     // the condition is over; `until` says since when
};

/// Fixed size, trivially copyable. Values are in `unit`.
template <std::floating_point R>
struct Finding {
  std::uint16_t check = 0;  // CheckInfo::id
  Channel channel = Channel::none;
  Severity severity = Severity::not_judged;
  FindingEvent event = FindingEvent::opened;
  Unit unit = Unit::one;
  std::uint16_t run = 0;   // set by the monitor; 0: outside every run
  R value = kNone;         // the worst so far, or the figure judged
  R limit = kNone;         // what it was held against
  TimeMs since = kNoTime;  // where this severity began
  TimeMs until = kNoTime;  // last time the condition held
  /// Figures that belong to the argument; CheckInfo::details names them.
  std::array<R, 4> detail{kNone, kNone, kNone, kNone};

  static constexpr R kNone = std::numeric_limits<R>::quiet_NaN();
};

/// What a finding is about, in one word.
struct About {
  std::uint8_t check = 0;
  Channel channel = Channel::none;
  Unit unit = Unit::one;
  Severity severity = Severity::not_judged;

  [[nodiscard]] constexpr About as(Severity found) const {
    return {check, channel, unit, found};
  }
};
/// The time a finding speaks of.
template <std::floating_point R>
struct Span {
  TimeOf<R> since = kNoTime;
  TimeOf<R> until = kNoTime;
};

/// Figures for Finding::detail.
template <std::floating_point R>
struct Details {
  std::array<R, 4> of{Finding<R>::kNone, Finding<R>::kNone, Finding<R>::kNone,
                      Finding<R>::kNone};
};

/// Where findings go: a plain function and its context, so that a box needs no
/// buffer for them.
template <std::floating_point R>
class FindingSink {
 public:
  using Function = void (*)(void* context, const Finding<R>& finding);

  constexpr FindingSink(Function function, void* context)
      : function_(function), context_(context) {}

  void operator()(const Finding<R>& finding) const {
    function_(context_, finding);
  }

 private:
  Function function_;
  void* context_;
};

}  // namespace telltale
