// voltage-high: steady volts above the band, per leg and leg to leg.
#pragma once

#include <array>

#include "telltale/detect/check.hpp"
#include "telltale/detect/guard.hpp"
#include "telltale/detect/legs.hpp"
#include "telltale/detect/relative.hpp"

namespace telltale {

template <std::floating_point R>
class VoltageHigh {
 public:
  static constexpr CheckInfo info{
      .id = 8,
      .slug = "voltage-high",
      .title = "Volts too high",
      .needs_one = kAnyVolts,
      .source = "IACS UR E5 permanent +6 %; urgent +15 %: common practice",
      .details = {{{"nominal", Unit::V}, {"load", Unit::pct}}}};
  static constexpr When when{.steady = true};
  static constexpr Advice advice{
      .summary = "{channel} stood at up to {value}, above {limit}, for {for}",
      .causes = {"voltage regulator set too high or failing",
                 "open or high-resistance neutral: one leg rises while the "
                 "other falls",
                 "capacitor-excited set running too fast",
                 "sensing lead loose at the regulator"},
      .next = {"measure every leg and leg to leg at the set's terminals",
               "check frequency: high speed lifts volts on a "
               "capacitor-excited set",
               "check the neutral and its connections, power off and locked",
               "unplug sensitive equipment until volts are right"},
      .cautions = caution::kShock};
  static constexpr Explanation explanation{
      .sees =
          "Volts of each leg and leg to leg, each by itself, in settled "
          "running.",
      .decides =
          "A reading must stay above the limit for the whole delay, "
          "with a tenth of it forgiven and three readings at least.",
      .blind =
          "Without a voltage column, or when nominal volts are neither "
          "given nor near one of the listed systems.",
      .fooled =
          "A wrong nominal voltage in the profile; leg and line columns "
          "mixed up. Stretches in which frequency is high as well are "
          "left to over-excitation."};

  /// In percent off nominal volts.
  static constexpr Limits limits(const Profile& profile) {
    return with_overrides({.attention = level(6, 30),
                           .urgent = level(15, 10),
                           .side = Side::above,
                           .unit = Unit::pct},
                          profile, info.id);
  }
  SetupError configure(const Profile& profile) {
    const Limits percent = limits(profile);
    const Rating& rating = profile.rating;
    const float leg = rating.leg_voltage_v();
    const float line = rating.voltage_v;
    known_ = is_known(line);
    leg_ = relative_rule<R>(percent, leg, static_cast<R>(leg) * R(0.002));
    line_ = relative_rule<R>(percent, line, static_cast<R>(line) * R(0.002));
    return validate(percent);
  }

  bool step(const Moment<R>& m, const FindingSink<R>& sink) {
    if (!known_) return false;
    if (m.over_excited) return true;
    bool judged = false;
    for (std::size_t i = 0; i < kAllVolts.size(); ++i) {
      const auto& volts = m[kAllVolts[i]];
      if (!volts.good()) continue;
      guards_[i].step(m, volts.value, rule(i), blank(m, i), sink);
      judged = true;
    }
    return judged;
  }
  void end_run(const Moment<R>& m, const FindingSink<R>& sink) {
    for (std::size_t i = 0; i < kAllVolts.size(); ++i) {
      guards_[i].finish(m.at, blank(m, i), sink);
    }
  }
  void reset() {
    for (Guard<R>& guard : guards_) guard.reset();
  }
  [[nodiscard]] Blind blind() const {
    return known_ ? Blind::never_steady : Blind::no_nominal;
  }

 private:
  [[nodiscard]] const LatchRule<R>& rule(std::size_t i) const {
    return kAllVolts[i] == Channel::voltage_line ? line_ : leg_;
  }
  static Finding<R> blank(const Moment<R>& m, std::size_t i) {
    return {.check = info.id,
            .channel = kAllVolts[i],
            .unit = Unit::V,
            .detail = {
                static_cast<R>(nominal_volts(kAllVolts[i], m.profile->rating)),
                m.load_pct}};
  }

  std::array<Guard<R>, kAllVolts.size()> guards_{};
  LatchRule<R> leg_;
  LatchRule<R> line_;
  bool known_ = false;
};

}  // namespace telltale
