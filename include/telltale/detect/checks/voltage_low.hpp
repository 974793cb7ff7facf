// voltage-low: steady volts below the band, per leg and leg to leg.
#pragma once

#include <array>

#include "telltale/detect/check.hpp"
#include "telltale/detect/legs.hpp"
#include "telltale/detect/voltage_band.hpp"

namespace telltale {

template <std::floating_point R>
class VoltageLow {
 public:
  static constexpr CheckInfo info{
      .id = 9,
      .slug = "voltage-low",
      .title = "Volts too low",
      .needs_one = kAnyVolts,
      .source = "IACS UR E5 permanent -10 %; urgent -15 %: common practice",
      .details = {{{"nominal", Unit::V}, {"load", Unit::pct}}}};
  static constexpr When when{.steady = true};
  static constexpr Advice advice{
      .summary = "{channel} stood at down to {value}, below {limit}, for {for}",
      .causes = {"overload, or one leg carrying too much",
                 "voltage regulator set too low or failing",
                 "excitation weak: capacitor, brushes or rotating diodes",
                 "low speed under load",
                 "open or high-resistance neutral: one leg falls while the "
                 "other rises"},
      .next = {"measure every leg and leg to leg at the set's terminals",
               "take load off and see whether volts come back",
               "check frequency: below nominal, look at the engine first",
               "check excitation by the handbook, power off and locked"},
      .cautions = caution::kShock};
  static constexpr Explanation explanation{
      .sees =
          "Volts of each leg and leg to leg, each by itself, in settled "
          "running.",
      .decides =
          "A reading must stay below the limit for the whole delay, "
          "with a tenth of it forgiven and three readings at least.",
      .blind =
          "Without a voltage column, or when nominal volts are neither "
          "given nor near one of the listed systems.",
      .fooled =
          "A wrong nominal voltage in the profile; volts taken behind "
          "a breaker that is open."};

  /// In percent off nominal volts.
  static constexpr Limits kUsual{.attention = level(-10, 30),
                                 .urgent = level(-15, 10),
                                 .side = Side::below,
                                 .unit = Unit::pct};
  static constexpr Limits limits(const Profile& profile) {
    return with_overrides(kUsual, profile, info.id);
  }
  void configure(const Profile& profile) { volts_.configure(profile, limits); }

  bool step(const Moment<R>& m, Ledger<R>& ledger) {
    if (!volts_.known()) return false;
    return volts_.judge(m, info.id, limits, Side::below, ledger);
  }
  [[nodiscard]] Blind blind() const {
    return volts_.known() ? Blind::never_steady : Blind::no_nominal;
  }

 private:
  VoltageBand<R> volts_;
};

}  // namespace telltale
