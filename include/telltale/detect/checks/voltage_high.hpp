// voltage-high: steady volts above the band, per leg and leg to leg.
#pragma once

#include <array>

#include "telltale/detect/check.hpp"
#include "telltale/detect/legs.hpp"
#include "telltale/detect/voltage_band.hpp"

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
  static constexpr Limits kUsual{.attention = level(6, 30),
                                 .urgent = level(15, 10),
                                 .side = Side::above,
                                 .unit = Unit::pct};
  static constexpr Limits limits(const Profile& profile) {
    return with_overrides(kUsual, profile, info.id);
  }
  void configure(const Profile& profile) { volts_.configure(profile, limits); }

  bool step(const Moment<R>& m, Ledger<R>& ledger) {
    if (!volts_.known()) return false;
    if (m.over_excited) return true;
    return volts_.judge(m, info.id, limits, Side::above, ledger);
  }
  [[nodiscard]] Blind blind() const {
    return volts_.known() ? Blind::never_steady : Blind::no_nominal;
  }

 private:
  VoltageBand<R> volts_;
};

}  // namespace telltale
