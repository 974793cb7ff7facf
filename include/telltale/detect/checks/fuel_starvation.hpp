// fuel-starvation: the speed sags at constant or falling load.
#pragma once

#include "telltale/base/ring.hpp"
#include "telltale/base/stamp.hpp"
#include "telltale/detect/check.hpp"

namespace telltale {

template <std::floating_point R>
class FuelStarvation {
 public:
  static constexpr CheckInfo info{
      .id = 19,
      .slug = "fuel-starvation",
      .title = "Speed sags as if short of fuel",
      .needs_one = bit(Channel::engine_speed) | bit(Channel::frequency),
      .source = "common practice",
      .details = {{{"deepest sag", Unit::pct}, {"load", Unit::pct}}}};
  static constexpr When when{.phases = kAnyPhase};
  static constexpr Advice advice{
      .summary =
          "The speed sagged {value} times within 5 min, by up to {d0}, "
          "with no load put on",
      .causes = {"fuel filter or water trap clogging",
                 "air drawn into the suction line",
                 "tank low, vent blocked, or a valve half shut",
                 "lift pump weak", "stop solenoid dropping out"},
      .next = {"check tank level, vent and valves",
               "look for water and dirt in the trap, change the filters",
               "bleed 30 to 60 s, then try once or twice, no more",
               "check suction hoses and clamps for air"},
      .cautions = caution::kFuel | caution::kWater | caution::kExhaust};
  static constexpr Explanation explanation{
      .sees =
          "Speed (frequency where there is none) against its own level, "
          "and the load.",
      .decides =
          "A sag is a fall by more than 5 % below the level while the "
          "load does not rise. Three within 5 min, or one within 60 s "
          "before a stop that came from load, are urgent.",
      .blind = "Where nothing tells the load, and at intervals over 10 s.",
      .fooled = "A motor start whose load the log does not show."};

  /// Number of sags within 5 min.
  static constexpr Limits kUsual{.urgent = level(3, 300),
                                 .side = Side::above,
                                 .unit = Unit::one,
                                 .inclusive = true};
  static constexpr Limits limits(const Profile& profile) {
    return with_overrides(kUsual, profile, info.id);
  }
  void configure(const Profile& profile) {
    const float count = limits(profile).urgent.limit;
    needed_ = count < 1.0F ? std::uint8_t{1}
              : count > static_cast<float>(kKept)
                  ? static_cast<std::uint8_t>(kKept)
                  : static_cast<std::uint8_t>(count);
  }

  bool step(const Moment<R>& m, Ledger<R>& ledger) {
    if (m.interval > kLongest) return blinded(Blind::interval_too_long);
    if (!m.at_speed()) {
      sagging_ = false;
      return false;
    }
    if (m.load_source == LoadSource::none) {
      return blinded(Blind::no_load_reading);
    }
    follow(m, ledger);
    return true;
  }
  [[gnu::cold]] void end_run(const Moment<R>& m, Ledger<R>& ledger) {
    const bool from_load = m.stop != nullptr && m.stop->loaded;
    if (from_load && !ledger.holds(info.id) && sags_.size() > 0) {
      // The stop itself begins as a sag; count the one before it.
      const TimeOf<R> fall = m.stop->fall_since;
      for (std::size_t i = sags_.size(); i-- > 0;) {
        const TimeOf<R> at = sags_[i].full(m.at);
        if (at >= fall) continue;
        if (fall - at <= kBeforeStop) report(m, at, fall, R(1), ledger);
        break;
      }
    }
    ledger.close(info.id, m.at);
  }
  void reset() {
    sags_.clear();
    sagging_ = false;
    deepest_ = R(0);
    blind_ = Blind::never_steady;
  }
  [[nodiscard]] Blind blind() const { return blind_; }

 private:
  static constexpr std::size_t kKept = 6;
  static constexpr SpanOf<R> kWithin = minutes(5);
  static constexpr SpanOf<R> kBeforeStop = seconds(60);
  static constexpr SpanOf<R> kLongest = seconds(10);
  static constexpr R kRise = R(5);  // % of rating: load was put on

  bool blinded(Blind why) {
    blind_ = why;
    return false;
  }
  void follow(const Moment<R>& m, Ledger<R>& ledger) {
    const bool low = is_set(m.sag_since);
    if (!low) {
      sagging_ = false;
      load_before_ = m.load_pct;
      return;
    }
    const bool put_on = m.load_pct > load_before_ + kRise ||
                        (is_set(m.step_at) && m.at - m.step_at < seconds(5) &&
                         m.load_pct > m.step_from_pct);
    if (put_on) {
      if (sagging_ && !sags_.empty() && counted_) uncount();
      sagging_ = true;
      counted_ = false;
      return;
    }
    const R depth = (R(1) - m.turn_ratio / m.turn_level) * R(100);
    if (!sagging_) {
      sagging_ = true;
      counted_ = true;
      sags_.push(Stamp(m.at));
      if (sags_.size() >= needed_) {
        const TimeOf<R> first = sags_[sags_.size() - needed_].full(m.at);
        if (m.at - first <= kWithin) {
          report(m, first, m.at, static_cast<R>(needed_), ledger);
        }
      }
    }
    if (counted_ && depth > deepest_) deepest_ = depth;
  }
  /// The load rose after all, a reading late: that sag was its doing.
  void uncount() {
    Ring<Stamp, kKept> kept;
    for (std::size_t i = 0; i + 1 < sags_.size(); ++i) kept.push(sags_[i]);
    sags_ = kept;
  }
  [[gnu::noinline]] void report(const Moment<R>& m, TimeOf<R> first,
                                TimeOf<R> last, R limit, Ledger<R>& ledger) {
    R count = R(0);
    for (std::size_t i = 0; i < sags_.size(); ++i) {
      if (sags_[i].full(m.at) >= first) count += R(1);
    }
    const bool by_speed = m.turn_source == TurnSource::speed;
    ledger.hold({info.id, by_speed ? Channel::engine_speed : Channel::frequency,
                 Unit::one, Severity::urgent},
                {first, last}, count, limit, {{deepest_, load_before_}});
  }

  Ring<Stamp, kKept> sags_;
  R load_before_ = Finding<R>::kNone;
  R deepest_ = R(0);
  Blind blind_ = Blind::never_steady;
  std::uint8_t needed_{};
  bool sagging_ = false;
  bool counted_ = false;
};

}  // namespace telltale
