// alarm-chatter: one of the controller's own alarms comes and goes.
#pragma once

#include <bit>
#include <cstdint>

#include "telltale/base/stamp.hpp"
#include "telltale/detect/check.hpp"

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
  static constexpr Limits kUsual{
      .attention = level(3, 60), .unit = Unit::one, .inclusive = true};
  static constexpr Limits limits(const Profile& profile) {
    return with_overrides(kUsual, profile, info.id);
  }

  bool step(const Moment<R>& m, Ledger<R>& ledger) {
    for_each_bit(m.alarms->raised(),
                 [&](std::size_t alarm) { judge(m, alarm, ledger); });
    return true;
  }

 private:
  [[gnu::noinline]] void judge(const Moment<R>& m, std::size_t alarm,
                               Ledger<R>& ledger) {
    const AlarmRaises& raises = *m.alarms;
    const Level limit = limits(*m.profile).attention;
    int n = 0;
    Stamp first;
    for (std::size_t i = 0; i < raises.size(); ++i) {
      const Stamp at = raises.at(i);
      if (at.age(m.at) > limit.delay()) break;
      if (raises.alarm(i) != alarm) continue;
      first = at;
      ++n;
    }
    const R count = static_cast<R>(n);
    if (count < static_cast<R>(limit.limit)) return;
    ledger.hold({info.id, Channel::none, Unit::one, Severity::attention},
                {first.full(m.at), m.at}, count, static_cast<R>(limit.limit),
                {{static_cast<R>(alarm)}});
  }
};

}  // namespace telltale
