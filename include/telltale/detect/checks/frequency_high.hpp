// frequency-high: steady frequency above the permanent band.
#pragma once

#include "telltale/condition/performance_class.hpp"
#include "telltale/detect/check.hpp"
#include "telltale/detect/guard.hpp"
#include "telltale/detect/relative.hpp"

namespace telltale {

template <std::floating_point R>
class FrequencyHigh {
 public:
  static constexpr CheckInfo info{
      .id = 1,
      .slug = "frequency-high",
      .title = "Frequency too high",
      .needs = bit(Channel::frequency),
      .source =
          "IACS UR E5 permanent band +/-5 %; urgent and the no-load "
          "widening by class droop (ISO 8528-5): common practice",
      .details = {{{"load", Unit::pct}}}};
  static constexpr When when{.steady = true};
  static constexpr Advice advice{
      .summary = "Frequency stood at up to {value}, above {limit}, for {for}",
      .causes = {"governor speed set too high, or its linkage sticking",
                 "no-load speed set high to make up for droop at full load",
                 "governor spring or actuator worn or disturbed after work",
                 "boost stage held in after a stop under load"},
      .next = {"read frequency with a meter at no load and at a known load",
               "compare engine speed: 3600 rpm is 60 Hz with two poles, 1800 "
               "with four",
               "check linkage and spring for free movement before adjusting",
               "set no-load speed so that rated load runs at nominal"},
      .cautions = caution::kShock | caution::kRotating};
  static constexpr Explanation explanation{
      .sees =
          "Frequency while the set runs settled: 10 s after reaching speed "
          "and 10 s after any load step.",
      .decides =
          "Frequency must stay above the limit for the whole delay, "
          "with a tenth of it forgiven and three readings at least. "
          "Below 10 % load, or where nothing tells the load, the limit "
          "is wider by the droop the performance class allows (6 % for "
          "an asynchronous set): a healthy governor runs faster "
          "unloaded.",
      .blind =
          "Without a frequency column, or when nominal frequency is "
          "neither given nor clear from the log.",
      .fooled =
          "A wrong nominal frequency in the profile. Stretches in which "
          "volts are high as well are left to over-excitation."};

  /// In percent off nominal frequency, for a loaded set.
  static constexpr Limits limits(const Profile& profile) {
    return with_overrides({.attention = level(5, 30),
                           .urgent = level(8, 10),
                           .side = Side::above,
                           .unit = Unit::pct},
                          profile, info.id);
  }
  SetupError configure(const Profile& profile) {
    const Limits percent = limits(profile);
    const Rating& rating = profile.rating;
    const float hz = rating.frequency_hz;
    const R deadband = static_cast<R>(hz) * R(0.002);
    const float widen = rating.generator == Generator::asynchronous
                            ? kAsynchronousSlipPct
                            : limits_of(rating.performance).droop;
    known_ = is_known(hz);
    loaded_ = relative_rule<R>(percent, hz, deadband);
    unloaded_ = relative_rule<R>(percent, hz, deadband, widen);
    return validate(percent);
  }

  bool step(const Moment<R>& m, const FindingSink<R>& sink) {
    const auto& hz = m[Channel::frequency];
    if (!known_ || !hz.good()) return false;
    if (m.over_excited) return true;
    guard_.step(m, hz.value, rule(m), blank(m), sink);
    return true;
  }
  void end_run(const Moment<R>& m, const FindingSink<R>& sink) {
    guard_.finish(m.at, blank(m), sink);
  }
  void reset() { guard_.reset(); }
  [[nodiscard]] Blind blind() const {
    return known_ ? Blind::never_steady : Blind::no_nominal;
  }

 private:
  static constexpr R kLightLoad = R(10);

  [[nodiscard]] const LatchRule<R>& rule(const Moment<R>& m) const {
    return m.load_pct >= kLightLoad ? loaded_ : unloaded_;
  }
  static Finding<R> blank(const Moment<R>& m) {
    return {.check = info.id,
            .channel = Channel::frequency,
            .unit = Unit::Hz,
            .detail = {m.load_pct}};
  }

  Guard<R> guard_;
  LatchRule<R> loaded_;
  LatchRule<R> unloaded_;
  bool known_ = false;
};

}  // namespace telltale
