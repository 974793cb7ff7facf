// frequency-high: steady frequency above the permanent band.
#pragma once

#include "telltale/condition/performance_class.hpp"
#include "telltale/detect/check.hpp"
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
  static constexpr Limits kUsual{.attention = level(5, 30),
                                 .urgent = level(8, 10),
                                 .side = Side::above,
                                 .unit = Unit::pct};
  static constexpr Limits limits(const Profile& profile) {
    return with_overrides(kUsual, profile, info.id);
  }
  void configure(const Profile& profile) {
    edge_ = rule(profile, kLightLoad).edge();
  }

  bool step(const Moment<R>& m, Ledger<R>& ledger) {
    const auto& hz = m[Channel::frequency];
    if (!known() || !hz.good()) return false;
    if (m.over_excited) return true;
    if (ledger.minds(info.id, hz.value, edge_, Side::above)) {
      ledger.watch(m, kAbout, hz.value, rule(*m.profile, m.load_pct),
                   {{m.load_pct}});
    }
    return true;
  }
  [[nodiscard]] Blind blind() const {
    return known() ? Blind::never_steady : Blind::no_nominal;
  }

 private:
  static constexpr R kLightLoad = R(10);

  static constexpr About kAbout{info.id, Channel::frequency, Unit::Hz};

  [[nodiscard]] bool known() const { return edge_ == edge_; }
  static LatchRule<R> rule(const Profile& profile, R load_pct) {
    const Rating& rating = profile.rating;
    const bool loaded = load_pct >= kLightLoad;
    const float widen = loaded ? 0.0F
                        : rating.generator == Generator::asynchronous
                            ? kAsynchronousSlipPct
                            : limits_of(rating.performance).droop;
    const float hz = rating.frequency_hz;
    return relative_rule<R>(limits(profile), hz, static_cast<R>(hz) * R(0.002),
                            widen);
  }

  R edge_{};  // for a loaded set, the narrower; NaN: no nominal
};

}  // namespace telltale
