// data-gap: no samples while running.
#pragma once

#include "telltale/detect/check.hpp"

namespace telltale {

template <std::floating_point R>
class DataGap {
 public:
  static constexpr CheckInfo info{
      .id = 40,
      .slug = "data-gap",
      .title = "Gap in the log",
      .source = "common practice",
      .details = {{{"gaps", Unit::one}, {"missing in all", Unit::s}}}};
  static constexpr When when{.phases = kAnyPhase};
  static constexpr Advice advice{
      .summary =
          "No samples for {value} while running ({d0} gaps, {d1} in "
          "all)",
      .causes = {"logger lost power or its card was pulled",
                 "logging interval changed", "rows lost in copying the log"},
      .next = {"check the logger's supply and card",
               "do not read anything into what the gap hides"},
      .cautions = 0};
  static constexpr Explanation explanation{
      .sees = "The time between samples while the set runs.",
      .decides = "More than 10 of the usual intervals and more than 10 s.",
      .blind = "Never.",
      .fooled = "A logger that only writes on change."};

  /// In intervals; 10 s is fixed beside it.
  static constexpr Limits kUsual{
      .note = level(10, 0), .side = Side::above, .unit = Unit::one};
  static constexpr Limits limits(const Profile& profile) {
    return with_overrides(kUsual, profile, info.id);
  }
  void configure(const Profile& profile) {
    limit_ = static_cast<R>(limits(profile).note.limit);
  }

  bool step(const Moment<R>& m, Ledger<R>& ledger) {
    const bool turning = m.in_run() && !m.began;
    const bool was_turning = turning_;
    turning_ = m.in_run() && m.phase != Phase::stopped;
    if (!turning || !was_turning) return true;
    if (!(m.dt > seconds(10))) return true;
    const R intervals = in_ms<R>(m.dt) /
                        in_ms<R>(m.interval.ms > 0 ? m.interval : SpanOf<R>{1});
    if (!(intervals > limit_)) return true;
    gaps_ += R(1);
    missing_s_ += in_ms<R>(m.dt - m.interval) * R(0.001);
    ledger.hold({info.id, Channel::none, Unit::s, Severity::note},
                {m.at - m.dt, m.at}, in_ms<R>(m.dt) * R(0.001),
                limit_ * in_ms<R>(m.interval) * R(0.001),
                {{gaps_, missing_s_}});
    return true;
  }
  void reset() { gaps_ = missing_s_ = R(0); }

 private:
  R limit_{};
  R gaps_ = R(0);
  R missing_s_ = R(0);
  bool turning_ = false;
};

}  // namespace telltale
