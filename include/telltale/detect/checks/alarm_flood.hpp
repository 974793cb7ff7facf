// alarm-flood: more of the controller's own alarms than anyone can follow.
#pragma once

#include <bit>

#include "telltale/base/ring.hpp"
#include "telltale/base/stamp.hpp"
#include "telltale/detect/check.hpp"
#include "telltale/detect/standing.hpp"

namespace telltale {

template <std::floating_point R>
class AlarmFlood {
 public:
  static constexpr CheckInfo info{
      .id = 47,
      .slug = "alarm-flood",
      .title = "Alarm flood",
      .source =
          "ISA-18.2 / EEMUA 191: over 10 alarms in 10 min, until under 5 "
          "in 10 min",
      .details = {{{"raises in the flood", Unit::one}}}};
  static constexpr When when{.phases = kAnyPhase};
  static constexpr Advice advice{
      .summary =
          "{value} alarms were raised within 10 min (flood above "
          "{limit})",
      .causes = {"one cause with many consequences: look at the first alarm",
                 "a chattering alarm",
                 "supply of controller or sensors failing"},
      .next = {"find what came first: see telltale alarms",
               "cure chattering alarms with delay and deadband"},
      .cautions = 0};
  static constexpr Explanation explanation{
      .sees = "Raises of all alarms together, over the last 10 min.",
      .decides = "A flood begins above 10 raises in 10 min and ends below 5.",
      .blind = "Without an alarm column.",
      .fooled = "Test of the alarm panel."};

  /// Raises within 10 min.
  static constexpr Limits limits(const Profile& profile) {
    return with_overrides(
        {.attention = level(10, 600), .side = Side::above, .unit = Unit::one},
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
    while (!raises_.empty() && raises_.front().age(m.at) > limit_.delay()) {
      raises_.pop();
    }
    for (int i = std::popcount(raised); i > 0; --i) {
      raises_.push(Stamp(m.at));
      if (standing_.standing()) ++in_flood_;
    }
    const R count = static_cast<R>(raises_.size());
    if (count > static_cast<R>(limit_.limit)) {
      if (!standing_.standing()) {
        in_flood_ = static_cast<std::uint32_t>(raises_.size());
      }
      standing_.assert_now({.check = info.id,
                            .severity = Severity::attention,
                            .value = count,
                            .limit = static_cast<R>(limit_.limit),
                            .since = raises_.front().full(m.at),
                            .until = m.at,
                            .detail = {static_cast<R>(in_flood_)}},
                           true, sink);
    } else if (count < kOver && standing_.standing()) {
      standing_.close({.check = info.id}, m.at, sink);
    }
    return true;
  }
  void end_run(const Moment<R>& m, const FindingSink<R>& sink) {
    standing_.close({.check = info.id}, m.at, sink);
  }
  void reset() { standing_.reset(); }

 private:
  static constexpr R kOver = R(5);

  Ring<Stamp, 32> raises_;
  Standing<R> standing_;
  Level limit_;
  std::uint32_t in_flood_ = 0;
  AlarmMask standing_now_ = 0;
  bool started_ = false;
};

}  // namespace telltale
