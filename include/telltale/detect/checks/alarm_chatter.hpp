// alarm-chatter: one of the controller's own alarms comes and goes.
#pragma once

#include <array>
#include <bit>
#include <limits>

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
      .details = {{{"alarm", Unit::one}, {"raises in all", Unit::one}}}};
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
  static constexpr std::size_t kAlarms = std::numeric_limits<AlarmMask>::digits;
  struct Raises {
    Stamp before_last;
    Stamp last;
    std::uint16_t n = 0;
  };

  void raise(const Moment<R>& m, std::size_t alarm,
             const FindingSink<R>& sink) {
    Raises& r = raises_[alarm];
    if (r.n < 0xFFFF) ++r.n;
    const bool three = r.n >= 3 && r.before_last.age(m.at) <= limit_.delay();
    const TimeMs first = r.before_last.full(m.at);
    r.before_last = r.last;
    r.last = Stamp(m.at);
    if (!three) return;
    standing_.assert_now(
        {.check = info.id,
         .severity = Severity::attention,
         .value = R(3),
         .limit = static_cast<R>(limit_.limit),
         .since = first,
         .until = m.at,
         .detail = {static_cast<R>(alarm), static_cast<R>(r.n)}},
        true, sink);
  }

  std::array<Raises, kAlarms> raises_{};
  Standing<R> standing_;
  Level limit_;
  AlarmMask standing_now_ = 0;
  bool started_ = false;
};

}  // namespace telltale
