// oil-pressure-slow: how long oil pressure takes to show after a start.
#pragma once

#include "telltale/base/out_of_line.hpp"
#include "telltale/detect/check.hpp"

namespace telltale {

template <std::floating_point R>
class OilPressureSlow {
 public:
  static constexpr CheckInfo info{
      .id = 22,
      .slug = "oil-pressure-slow",
      .title = "Oil pressure slow to rise",
      .needs = bit(Channel::oil_pressure),
      .source =
          "engine handbooks: pressure within 15 s of the start or stop; "
          "10 s: common practice"};
  static constexpr When when{.phases = kAnyPhase};
  static constexpr Advice advice{
      .summary =
          "Oil pressure took {value} after the start to reach 100 kPa "
          "(limit {limit})",
      .causes = {"oil drains back while stopped: filter without or with a "
                 "leaking check valve",
                 "oil level low or pick-up leaking air", "worn pump",
                 "oil too thick for the cold",
                 "slow sender or a restricted sender port"},
      .next = {"check the oil level and grade",
               "change the filter for one with a check valve",
               "watch a mechanical gauge during a cold start"},
      .cautions = caution::kRotating};
  static constexpr Explanation explanation{
      .sees =
          "Time from passing 40 % of nominal speed to the first of 3 s "
          "above 100 kPa.",
      .decides = "Longer than the limit.",
      .blind = "When the start is not in the log, at intervals over 2.5 s.",
      .fooled = "A sender that is slow itself."};

  /// In seconds.
  static constexpr Limits kUsual{
      .attention = level(10, 0), .side = Side::above, .unit = Unit::s};
  static constexpr Limits limits(const Profile& profile) {
    return with_overrides(kUsual, profile, info.id);
  }
  void configure(const Profile& profile) {
    limit_ = static_cast<R>(limits(profile).attention.limit);
  }

  TELLTALE_OUT_OF_LINE bool step(const Moment<R>& m, Ledger<R>& ledger) {
    if (m.interval > kLongest) return blinded(Blind::interval_too_long);
    if (m.run->begins_in_log) return blinded(Blind::start_not_seen);
    const bool running = (bit(m.phase) & kSelfRunning) != 0;
    if (!running) {
      if (!done_) up_ = false;
      return false;
    }
    const auto& pressure = m[Channel::oil_pressure];
    if (done_ || !pressure.good()) return done_;
    if (pressure.value > kThere) {
      if (!up_) up_since_ = m.at;
      up_ = true;
      if (m.at - up_since_ >= kHold) {
        done_ = true;
        tell(m, up_since_, ledger);
        ledger.close(info.id, m.at);
      }
    } else {
      up_ = false;
      tell(m, m.at, ledger);
    }
    return true;
  }
  void reset() {
    up_ = done_ = false;
    blind_ = Blind::start_not_seen;
  }
  [[nodiscard]] Blind blind() const { return blind_; }

 private:
  static constexpr R kThere = R(100);  // kPa
  static constexpr SpanOf<R> kHold = seconds(3);
  static constexpr SpanOf<R> kLongest{2500};

  bool blinded(Blind why) {
    blind_ = why;
    return false;
  }
  [[gnu::cold]] void tell(const Moment<R>& m, TimeOf<R> until,
                          Ledger<R>& ledger) {
    const TimeOf<R> start = m.run->running_since;
    const R taken = in_ms<R>(until - start) * R(0.001);
    if (!(taken > limit_)) return;
    ledger.hold({info.id, Channel::oil_pressure, Unit::s, Severity::attention},
                {start, until}, taken, limit_);
  }

  TimeOf<R> up_since_ = kNoTime;
  R limit_{};
  Blind blind_ = Blind::start_not_seen;
  bool up_ = false;
  bool done_ = false;
};

}  // namespace telltale
