// alarm-chatter: one of the controller's own alarms comes and goes.
#pragma once

#include <bit>
#include <cstdint>

#include "telltale/base/ring.hpp"
#include "telltale/base/stamp.hpp"
#include "telltale/detect/check.hpp"
#include "telltale/detect/standing.hpp"

namespace telltale {

template <std::floating_point R>
class AlarmChatter {
 public:
  static constexpr CheckInfo info{
      .id = 46,
      .slug = "alarm-chatter",
      .title = "Alarm chatters",
      .source = "ISA-18.2 / IEC 62682 screening rule: three raises within 60 s",
      .details = {{{"alarm", Unit::one}}}};
  static constexpr When when{.phases = kAnyPhase};
  static constexpr Advice advice{
      .summary =
          "An alarm was raised {value} times within 60 s (limit {limit})",
      .causes = {"the measured value sits at the alarm's limit",
                 "loose plug or chafed cable",
                 "alarm without delay or deadband"},
      .next = {"look at the channel behind the alarm first: is it true?",
               "give the alarm a delay or a deadband; never weaken a shutdown",
               "see telltale alarms for the settings that would have cured it"},
      .cautions = 0};
  static constexpr Explanation explanation{
      .sees =
          "The alarm column: an alarm stands while its text is there, a "
          "raise is its appearance.",
      .decides = "Three raises of the same alarm within 60 s.",
      .blind = "Without an alarm column.",
      .fooled = "A controller that writes its alarm text only in some rows."};

  /// Raises within 60 s.
  static constexpr Limits limits(const Profile& profile) {
    return with_overrides(
        {.attention = level(3, 60), .unit = Unit::one, .inclusive = true},
        profile, info.id);
  }
  SetupError configure(const Profile& profile) {
    limit_ = limits(profile).attention;
    return validate(limits(profile));
  }

  bool step(const Moment<R>& m, const FindingSink<R>& sink) {
    const AlarmMask now = m.frame->alarms;
    const AlarmMask raised = started_ ? now & ~standing_now_ : AlarmMask{0};
    standing_now_ = now;
    started_ = true;
    for (AlarmMask rest = raised; rest != 0; rest &= rest - 1U) {
      raise(m, static_cast<std::size_t>(std::countr_zero(rest)), sink);
    }
    return true;
  }
  void end_run(const Moment<R>& m, const FindingSink<R>& sink) {
    standing_.close({.check = info.id}, m.at, sink);
  }
  /// Raises may straddle the start of a run: they are kept.
  void reset() { standing_.reset(); }

 private:
  /// The newest raises of all alarms; more than that within the time is a
  /// flood, which has a check of its own.
  static constexpr std::size_t kKept = 32;
  struct Raise {
    Stamp at;
    std::uint8_t alarm;
  };

  void raise(const Moment<R>& m, std::size_t alarm,
             const FindingSink<R>& sink) {
    raises_.push({Stamp(m.at), static_cast<std::uint8_t>(alarm)});
    int n = 0;
    Stamp first;
    for (std::size_t i = raises_.size(); i-- > 0;) {
      const Raise& raise = raises_[i];
      if (raise.at.age(m.at) > limit_.delay()) break;
      if (raise.alarm != alarm) continue;
      first = raise.at;
      ++n;
    }
    const R count = static_cast<R>(n);
    if (count < static_cast<R>(limit_.limit)) return;
    standing_.assert_now({.check = info.id,
                          .severity = Severity::attention,
                          .value = count,
                          .limit = static_cast<R>(limit_.limit),
                          .since = first.full(m.at),
                          .until = m.at,
                          .detail = {static_cast<R>(alarm)}},
                         true, sink);
  }

  Ring<Raise, kKept> raises_;
  Standing<R> standing_;
  Level limit_;
  AlarmMask standing_now_ = 0;
  bool started_ = false;
};

}  // namespace telltale
