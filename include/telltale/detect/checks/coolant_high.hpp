// coolant-high: coolant temperature above what the circuit stands.
#pragma once

#include "telltale/detect/threshold.hpp"

namespace telltale {

template <std::floating_point R>
class CoolantHigh
    : public Threshold<CoolantHigh<R>, R, Channel::coolant_temperature> {
 public:
  static constexpr CheckInfo info{
      .id = 24,
      .slug = "coolant-high",
      .title = "Coolant too hot",
      .needs = bit(Channel::coolant_temperature),
      .source =
          "common practice: pressurised fresh-water circuits alarm at 95 to 98 "
          "and stop at 98 to 105 degC; direct sea-water cooling is kept low "
          "because salt comes out of solution near 71 degC",
      .details = {{{"load", Unit::pct}}}};
  static constexpr When when{};
  static constexpr Advice advice{
      .summary = "Coolant stood at up to {value} (limit {limit}) for {for}",
      .causes = {"raw-water flow low: strainer, sea cock, impeller, hoses",
                 "heat exchanger fouled", "coolant level low, cap leaking",
                 "thermostat stuck shut",
                 "belt of the circulating pump slipping", "overload"},
      .next = {"unload the set and let it run down cool, then stop it",
               "check the water at the exhaust outlet and clean the strainer",
               "check the impeller and its cover seal",
               "check the coolant level, only when cold",
               "check the belt and the thermostat"},
      .cautions = caution::kCoolant | caution::kExhaust | caution::kRotating};
  static constexpr Explanation explanation{
      .sees = "Coolant temperature at speed.",
      .decides = "Above the limit for 10 s, three readings at least.",
      .blind = "Without a coolant temperature.",
      .fooled =
          "Heat soak after a stop does not count; a sender with a bad earth "
          "does."};

  /// In degC, by kind of cooling.
  static constexpr Limits kFreshWater{.attention = level(95, 10),
                                      .urgent = level(105, 10),
                                      .side = Side::above,
                                      .unit = Unit::degC};
  static constexpr Limits kSeaWater{.attention = level(75, 10),
                                    .urgent = level(85, 10),
                                    .side = Side::above,
                                    .unit = Unit::degC};
  static constexpr Limits limits(const Profile& profile) {
    const bool sea = profile.rating.cooling == Cooling::sea_water;
    return with_overrides(sea ? kSeaWater : kFreshWater, profile, info.id);
  }
  static constexpr float kDeadband = 1.0F;
};

}  // namespace telltale
