// long-crank: one crank that takes too long.
#pragma once

#include "telltale/detect/check.hpp"

namespace telltale {

template <std::floating_point R>
class LongCrank {
 public:
  static constexpr CheckInfo info{
      .id = 36,
      .slug = "long-crank",
      .title = "Cranked for long",
      .needs_one = bit(Channel::engine_speed) | bit(Channel::frequency),
      .source =
          "engine handbooks: starter engaged 30 s at most; 10 s: common "
          "practice"};
  static constexpr When when{.phases = kAnyPhase};
  static constexpr Advice advice{
      .summary = "One crank took {value} (limit {limit})",
      .causes = {"air in the fuel after work or an empty tank",
                 "preheating too short or glow plugs failing",
                 "fuel filter clogged, stop solenoid not opening",
                 "cranking speed too low: battery or connections",
                 "low compression"},
      .next = {"give the starter two minutes to cool before the next try",
               "after fuel work bleed 30 to 60 s, then try once or twice",
               "check preheating and the stop solenoid",
               "check battery and cranking speed"},
      .cautions = caution::kWater | caution::kBattery};
  static constexpr Explanation explanation{
      .sees =
          "The time from the first turning reading to 40 % of nominal "
          "speed, or to rest again.",
      .decides = "Longer than the limit, told while it goes on.",
      .blind =
          "When the start is not in the log, at intervals over 2.5 s, "
          "where speed is not logged.",
      .fooled = "A speed column that shows noise at rest."};

  /// In seconds.
  static constexpr Limits kUsual{.attention = level(10, 0),
                                 .urgent = level(30, 0),
                                 .side = Side::above,
                                 .unit = Unit::s};
  static constexpr Limits limits(const Profile& profile) {
    return with_overrides(kUsual, profile, info.id);
  }

  bool step(const Moment<R>& m, Ledger<R>& ledger) {
    if (m.interval > kLongest) {
      blind_ = Blind::interval_too_long;
      return false;
    }
    const bool now = m.phase == Phase::cranking && !m.run->begins_in_log;
    if (now && !cranking_) began_ = m.at;
    const bool judged = now || (cranking_ && m.crank_ended);
    cranking_ = now;
    if (!judged) return false;
    const R taken = in_ms<R>(m.crank_so_far) * R(0.001);
    const Limits bounds = limits(*m.profile);
    const Severity severity = bounds.severity_of(static_cast<float>(taken));
    if (is_finding(severity)) {
      ledger.hold({info.id, Channel::engine_speed, Unit::s, severity},
                  {began_, m.at}, taken,
                  static_cast<R>(bounds[severity].limit));
    }
    return true;
  }
  void reset() {
    cranking_ = false;
    blind_ = Blind::start_not_seen;
  }
  [[nodiscard]] Blind blind() const { return blind_; }

 private:
  static constexpr SpanOf<R> kLongest{2500};

  TimeOf<R> began_ = kNoTime;
  Blind blind_ = Blind::start_not_seen;
  bool cranking_ = false;
};

}  // namespace telltale
