// clock-step: the log's clock was set.
#pragma once

#include "telltale/detect/check.hpp"

namespace telltale {

template <std::floating_point R>
class ClockStepCheck {
 public:
  static constexpr CheckInfo info{.id = 41,
                                  .slug = "clock-step",
                                  .title = "The log's clock was set",
                                  .source = "common practice",
                                  .details = {{{"forward", Unit::one}}}};
  static constexpr When when{.phases = kAnyPhase};
  static constexpr Advice advice{
      .summary = "The log's clock was set; durations leave the jump out",
      .causes = {"clock set by hand, by a satellite receiver or for summer "
                 "time",
                 "logger restarted without a buffered clock"},
      .next = {"mind the jump when comparing with other records"},
      .cautions = 0};
  static constexpr Explanation explanation{
      .sees =
          "Time stamps that step back after which time runs on, or jump "
          "forward by over 10 min while readings, hour meter and counters "
          "go on unchanged.",
      .decides = "Every such step is a note.",
      .blind = "In elapsed-time logs.",
      .fooled = "A pause in logging during which nothing at all changed."};

  static constexpr Limits kUsual{.note = level(0, 0), .unit = Unit::s};
  static constexpr Limits limits(const Profile& profile) {
    return with_overrides(kUsual, profile, info.id);
  }

  bool step(const Moment<R>& m, Ledger<R>& ledger) {
    if (m.clock != ClockStep::none) {
      ledger.tell({info.id, Channel::none, Unit::s, Severity::note},
                  {m.at, m.at}, in_ms<R>(m.clock_jump) * R(0.001), R(0),
                  {{m.clock == ClockStep::set_forward ? R(1) : R(0)}});
    }
    return true;
  }
};

}  // namespace telltale
