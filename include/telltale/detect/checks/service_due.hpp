// service-due: hours or months since a job was last done.
#pragma once

#include <algorithm>

#include "telltale/detect/check.hpp"

namespace telltale {

/// How much of a service item's interval is used up, 1 = due now; the larger
/// of hours and months. NaN where neither can be told.
template <std::floating_point R>
float used_up(const ServiceItem& item, float hours, TimeMs now) {
  constexpr float kDaysPerMonth = 30.4375F;
  constexpr float kMsPerDay = 24.0F * 3600.0F * 1000.0F;
  float used = kUnknown;
  if (item.every_h > 0.0F && is_known(item.done_h) && is_known(hours)) {
    used = (hours - item.done_h) / item.every_h;
  }
  if (item.every_months > 0.0F && is_set(item.done_on) && is_set(now)) {
    const float days =
        static_cast<float>(in_ms<R>(now - item.done_on)) / kMsPerDay;
    const float by_date = days / kDaysPerMonth / item.every_months;
    if (!(used >= by_date)) used = by_date;
  }
  return used;
}

template <std::floating_point R>
class ServiceDue {
 public:
  static constexpr CheckInfo info{
      .id = 38,
      .slug = "service-due",
      .title = "Service due",
      .source = "intervals in the profile",
      .details = {{{"item", Unit::one},
                   {"hours on the meter", Unit::h},
                   {"items due or nearly due", Unit::one}}}};
  static constexpr When when{.phases = kAnyPhase, .block = true};
  static constexpr Advice advice{
      .summary = "Service: {value} of the interval is used up",
      .causes = {"hours or months since the last time"},
      .next = {"do the job, then write hours and date into the profile"},
      .cautions = 0};
  static constexpr Explanation explanation{
      .sees =
          "The hour meter and the log's own last time stamp, never "
          "today's clock.",
      .decides =
          "For every job in the profile the larger of hours and months "
          "since it was last done, in percent of its interval: a note "
          "from 90 %, attention past 100 %. Told once, for the last "
          "run of the log.",
      .blind =
          "Without [service] in the profile, without an hour meter and "
          "dates.",
      .fooled = "An hour meter that was replaced."};

  /// In percent of the interval.
  static constexpr Limits kUsual{.note = level(90, 0),
                                 .attention = level(100, 0),
                                 .side = Side::above,
                                 .unit = Unit::pct};
  static constexpr Limits limits(const Profile& profile) {
    return with_overrides(kUsual, profile, info.id);
  }

  bool step(const Moment<R>& m, Ledger<R>&) {
    const auto& hours = m[Channel::engine_hours];
    if (hours.usable()) hours_ = static_cast<float>(hours.value);
    return false;
  }
  [[gnu::cold]] bool end_run(const Moment<R>& m, Ledger<R>& ledger) {
    const TimeMs today = m.wall_clock ? m.frame->at : kNoTime;
    const Limits bounds = limits(*m.profile);
    float most = kUnknown;
    int worst = 0;
    int due = 0;
    int index = 0;
    for (const ServiceItem& item : m.profile->service) {
      const float used = used_up<R>(item, hours_, today) * 100.0F;
      if (used > bounds.note.limit) ++due;
      if (!(used <= most) && is_known(used)) {
        most = used;
        worst = index;
      }
      ++index;
    }
    if (!is_known(most)) return false;
    const Severity severity = bounds.severity_of(most);
    if (is_finding(severity)) {
      ledger.tell({info.id, Channel::engine_hours, Unit::pct, severity},
                  {m.at, m.at}, static_cast<R>(most),
                  static_cast<R>(bounds[severity].limit),
                  {{static_cast<R>(worst), static_cast<R>(hours_),
                    static_cast<R>(due)}});
    }
    return true;
  }
  /// The meter's reading stays good between runs.
  [[nodiscard]] static constexpr Blind blind() { return Blind::nothing_due; }

 private:
  float hours_ = kUnknown;
};

}  // namespace telltale
