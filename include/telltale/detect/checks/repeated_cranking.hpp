// repeated-cranking: cranks in one start sequence.
#pragma once

#include "telltale/base/out_of_line.hpp"
#include "telltale/detect/check.hpp"

namespace telltale {

template <std::floating_point R>
class RepeatedCranking {
 public:
  static constexpr CheckInfo info{
      .id = 37,
      .slug = "repeated-cranking",
      .title = "Cranked again and again",
      .needs_one = bit(Channel::engine_speed) | bit(Channel::frequency),
      .source =
          "common practice: about five cranks without a start at most, "
          "each pumps sea water towards the cylinders; handbooks: 30 s "
          "of cranking in all, the muffler is full after some 45 s",
      .details = {{{"cranks", Unit::one},
                   {"cranking in all", Unit::s},
                   {"started", Unit::one}}}};
  static constexpr When when{.phases = kAnyPhase};
  static constexpr Advice advice{
      .summary =
          "{d0} cranks in one start sequence, {d1} of cranking in all "
          "(limit {limit})",
      .causes = {"air in the fuel after work or an empty tank",
                 "preheating too short or glow plugs failing",
                 "controller tried before it had come up",
                 "stop solenoid not opening, filter clogged",
                 "battery too weak to reach cranking speed"},
      .next = {"wet exhaust: close the sea cock before any further attempt; "
               "open it at once when it starts",
               "after about five cranks drain the water-lift muffler",
               "after fuel work bleed 30 to 60 s, then one or two tries",
               "give the controller some 20 s to come up before starting",
               "if water may have reached the cylinders, turn the engine by "
               "hand with the injectors out first"},
      .cautions = caution::kWater | caution::kBattery | caution::kFuel};
  static constexpr Explanation explanation{
      .sees =
          "Attempts less than 10 min apart, the good one counted, and the "
          "seconds of cranking in all of them.",
      .decides =
          "Three cranks, or 30 s in all over two or more, are for "
          "attention; five, or 45 s in all, are urgent.",
      .blind =
          "When the start is not in the log, at intervals over 2.5 s, "
          "where speed is not logged.",
      .fooled =
          "Turning the engine on the starter for bleeding on purpose, "
          "sea cock shut."};

  /// Number of cranks; 30 and 45 s of cranking in all are fixed beside it.
  static constexpr Limits kUsual{.attention = level(3, 0),
                                 .urgent = level(5, 0),
                                 .side = Side::above,
                                 .unit = Unit::one,
                                 .inclusive = true};
  static constexpr Limits limits(const Profile& profile) {
    return with_overrides(kUsual, profile, info.id);
  }

  TELLTALE_OUT_OF_LINE bool step(const Moment<R>& m, Ledger<R>& ledger) {
    if (m.interval > kLongest) {
      blind_ = Blind::interval_too_long;
      return false;
    }
    if (m.run->begins_in_log || !m.in_run()) return false;
    if (m.phase == Phase::cranking && !cranking_) began_ = m.at;
    const bool was_cranking = cranking_;
    cranking_ = m.phase == Phase::cranking;
    if (!cranking_ && !was_cranking) return m.at_speed();
    judge(m, ledger);
    return true;
  }
  void reset() {
    cranking_ = false;
    blind_ = Blind::start_not_seen;
  }
  [[nodiscard]] Blind blind() const { return blind_; }

 private:
  static constexpr SpanOf<R> kLongest{2500};
  static constexpr R kManySeconds = R(30);
  static constexpr R kTooManySeconds = R(45);

  [[gnu::noinline]] void judge(const Moment<R>& m, Ledger<R>& ledger) {
    const R cranks = static_cast<R>(m.run->attempts);
    const std::int64_t now_ms = cranking_ ? m.crank_so_far.ms : 0;
    const R all_s = in_ms<R>(SpanOf<R>{m.run->crank_ms + now_ms}) * R(0.001);
    const bool several = m.run->attempts >= 2;
    const Limits bounds = limits(*m.profile);
    Severity severity = Severity::healthy;
    if (cranks >= static_cast<R>(bounds.attention.limit) ||
        (several && all_s >= kManySeconds)) {
      severity = Severity::attention;
    }
    if (cranks >= static_cast<R>(bounds.urgent.limit) ||
        (several && all_s >= kTooManySeconds)) {
      severity = Severity::urgent;
    }
    if (!is_finding(severity)) return;
    const bool started = is_set(m.run->running_since);
    ledger.hold({info.id, Channel::engine_speed, Unit::one, severity},
                {began_, m.at}, cranks, static_cast<R>(bounds[severity].limit),
                {{cranks, all_s, started ? R(1) : R(0)}}, Worse::this_one);
  }

  TimeOf<R> began_ = kNoTime;
  Blind blind_ = Blind::start_not_seen;
  bool cranking_ = false;
};

}  // namespace telltale
