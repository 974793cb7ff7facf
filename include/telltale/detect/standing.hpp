// Standing<R>: opens, worsens and closes a finding for checks that work out a
// severity themselves.
#pragma once

#include <array>
#include <concepts>
#include <cstdint>
#include <type_traits>

#include "telltale/base/box.hpp"
#include "telltale/base/stamp.hpp"
#include "telltale/detect/finding.hpp"

namespace telltale {

/// Keeps the highest severity told so far, the worst value and since when.
template <std::floating_point R>
class Standing {
 public:
  /// A judgement that finds something; `finding` is complete but for `event`.
  /// Reports it if its severity is new or higher, and remembers its figures if
  /// they are worse. `higher_is_worse` says which way.
  void assert_now(const Finding<R>& finding, bool higher_is_worse,
                  const FindingSink<R>& sink) {
    const bool worse =
        higher_is_worse ? finding.value > worst_ : finding.value < worst_;
    assert_as(finding, worse, sink);
  }
  /// The same where the caller knows whether the figures are worse.
  void assert_as(Finding<R> finding, bool worse, const FindingSink<R>& sink) {
    const bool rises = finding.severity > severity_;
    if (rises || worse) {
      worst_ = finding.value;
      limit_ = finding.limit;
      unit_ = finding.unit;
      if constexpr (!kOnBox<R>) detail_ = finding.detail;
    }
    until_ = Stamp(finding.until);
    if (!rises) return;
    finding.event =
        is_finding(severity_) ? FindingEvent::worsened : FindingEvent::opened;
    severity_ = finding.severity;
    since_ = Stamp(finding.since);
    channel_ = finding.channel;
    sink(finding);
  }
  /// It is over, or the run is; `check` says of which check.
  void close(std::uint16_t check, TimeMs now, const FindingSink<R>& sink) {
    if (!standing()) return;
    Finding<R> finding{.check = check,
                       .channel = channel_,
                       .severity = severity_,
                       .event = FindingEvent::closed,
                       .unit = unit_,
                       .value = worst_,
                       .limit = limit_,
                       .since = since_.full(now),
                       .until = until_.full(now)};
    if constexpr (!kOnBox<R>) finding.detail = detail_;
    sink(finding);
    reset();
  }
  void reset() { *this = {}; }

  [[nodiscard]] bool standing() const { return is_finding(severity_); }
  [[nodiscard]] Severity severity() const { return severity_; }
  /// What the finding is about, and its worst value. None while none stands.
  [[nodiscard]] Channel channel() const { return channel_; }
  [[nodiscard]] R value() const {
    return standing() ? worst_ : Finding<R>::kNone;
  }
  /// Time since the condition last held.
  [[nodiscard]] DurationMs quiet(TimeMs now) const { return until_.age(now); }

 private:
  struct NotKept {};

  Stamp since_;
  Stamp until_;
  R worst_ = R(0);  // this and the following: while it stands
  R limit_ = R(0);
  /// A box's event records hold none, so it keeps none.
  [[no_unique_address]] std::conditional_t<kOnBox<R>, NotKept, std::array<R, 4>>
      detail_{};
  Severity severity_ = Severity::not_judged;
  Channel channel_ = Channel::none;
  Unit unit_ = Unit::one;  // of value and limit: they may change together
};

}  // namespace telltale
