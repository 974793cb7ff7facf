// frequency-low: steady frequency below the permanent band.
#pragma once

#include "telltale/detect/check.hpp"
#include "telltale/detect/relative.hpp"

namespace telltale {

template <std::floating_point R>
class FrequencyLow {
 public:
  static constexpr CheckInfo info{
      .id = 2,
      .slug = "frequency-low",
      .title = "Frequency too low",
      .needs = bit(Channel::frequency),
      .source = "IACS UR E5: permanent -5 %, transient -10 %",
      .details = {{{"load", Unit::pct}}}};
  static constexpr When when{.steady = true};
  static constexpr Advice advice{
      .summary = "Frequency stood at down to {value}, below {limit}, for {for}",
      .causes = {"load above what the engine can carry",
                 "fuel filter clogging or air in the fuel: engine short of "
                 "power",
                 "governor speed set too low, or too much droop",
                 "air filter or exhaust restricted, fouled hull intake",
                 "worn injectors or low compression"},
      .next = {"take load off: if frequency comes back, compare load with the "
               "rating",
               "check fuel supply: filter, lift pump, vacuum, bleed",
               "check air intake and exhaust back-pressure",
               "check governor linkage for full travel"},
      .cautions = caution::kShock | caution::kFuel};
  static constexpr Explanation explanation{
      .sees =
          "Frequency while the set runs settled: 10 s after reaching speed "
          "and 10 s after any load step.",
      .decides =
          "Frequency must stay below the limit for the whole delay, "
          "with a tenth of it forgiven and three readings at least.",
      .blind =
          "Without a frequency column, or when nominal frequency is "
          "neither given nor clear from the log.",
      .fooled =
          "A wrong nominal frequency in the profile; a set left at idle "
          "on purpose."};

  /// In percent off nominal frequency.
  static constexpr Limits kUsual{.attention = level(-5, 30),
                                 .urgent = level(-10, 10),
                                 .side = Side::below,
                                 .unit = Unit::pct};
  static constexpr Limits limits(const Profile& profile) {
    return with_overrides(kUsual, profile, info.id);
  }
  void configure(const Profile& profile) { edge_ = rule(profile).edge(); }

  bool step(const Moment<R>& m, Ledger<R>& ledger) {
    const auto& hz = m[Channel::frequency];
    if (!known() || !hz.good()) return false;
    if (ledger.minds(info.id, hz.value, edge_, Side::below)) {
      ledger.watch(m, kAbout, hz.value, rule);
    }
    return true;
  }
  [[nodiscard]] Blind blind() const {
    return known() ? Blind::never_steady : Blind::no_nominal;
  }

 private:
  static constexpr About kAbout{info.id, Channel::frequency, Unit::Hz};

  [[nodiscard]] bool known() const { return edge_ == edge_; }
  static LatchRule<R> rule(const Profile& profile) {
    const float hz = profile.rating.frequency_hz;
    return relative_rule<R>(limits(profile), hz, static_cast<R>(hz) * R(0.002));
  }

  R edge_{};  // NaN: no nominal
};

}  // namespace telltale
