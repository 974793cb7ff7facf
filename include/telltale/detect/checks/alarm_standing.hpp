// alarm-standing: an alarm that has stood for more than a day.
#pragma once

#include <array>
#include <bit>
#include <limits>

#include "telltale/base/stamp.hpp"
#include "telltale/detect/check.hpp"

namespace telltale {

template <std::floating_point R>
class AlarmStanding {
 public:
  static constexpr CheckInfo info{
      .id = 48,
      .slug = "alarm-standing",
      .title = "Alarm stands for days",
      .source = "ISA-18.2 / EEMUA 191: stale after 24 h",
      .details = {{{"alarm", Unit::one}}}};
  static constexpr When when{.phases = kAnyPhase};
  static constexpr Advice advice{
      .summary = "An alarm has stood for {value} (limit {limit})",
      .causes = {"a fault nobody has dealt with", "sensor failed",
                 "alarm that means nothing on this set"},
      .next = {"find out what it means and deal with it",
               "an alarm that needs no answer should not be one"},
      .cautions = 0};
  static constexpr Explanation explanation{
      .sees =
          "How long each alarm's text has been in the alarm column "
          "without a break.",
      .decides = "Longer than 24 h.",
      .blind = "Without an alarm column; in logs shorter than a day.",
      .fooled = "An alarm column that is never cleared."};

  /// In hours.
  static constexpr Limits kUsual{
      .attention = level(24, 0), .side = Side::above, .unit = Unit::h};
  static constexpr Limits limits(const Profile& profile) {
    return with_overrides(kUsual, profile, info.id);
  }
  void configure(const Profile& profile) {
    limit_ = limits(profile).attention.limit;
  }

  bool step(const Moment<R>& m, Ledger<R>& ledger) {
    const AlarmMask now = m.frame->alarms;
    for (AlarmMask rest = now & ~standing_now_; rest != 0; rest &= rest - 1U) {
      since_[static_cast<std::size_t>(std::countr_zero(rest))] = Stamp(m.at);
    }
    standing_now_ = now;
    for (AlarmMask rest = now; rest != 0; rest &= rest - 1U) {
      const auto alarm = static_cast<std::size_t>(std::countr_zero(rest));
      const R hours = in_ms<R>(since_[alarm].age(m.at)) / R(3600000);
      if (!(hours > static_cast<R>(limit_))) continue;
      ledger.hold({info.id, Channel::none, Unit::h, Severity::attention},
                  {since_[alarm].full(m.at), m.at}, hours,
                  static_cast<R>(limit_), {{static_cast<R>(alarm)}});
    }
    return true;
  }

 private:
  static constexpr std::size_t kAlarms = std::numeric_limits<AlarmMask>::digits;

  std::array<Stamp, kAlarms> since_{};
  float limit_{};
  AlarmMask standing_now_ = 0;
};

}  // namespace telltale
