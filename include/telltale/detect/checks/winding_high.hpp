// winding-high: winding temperature against its thermal class.
#pragma once

#include "telltale/detect/threshold.hpp"

namespace telltale {

template <std::floating_point R>
class WindingHigh
    : public Threshold<WindingHigh<R>, R, Channel::winding_temperature> {
 public:
  static constexpr CheckInfo info{
      .id = 30,
      .slug = "winding-high",
      .title = "Winding too hot",
      .needs = bit(Channel::winding_temperature),
      .source =
          "thermal classes of IEC 60085: A 105, E 120, B 130, F 155, H 180 "
          "degC; attention 20 K below: common practice",
      .details = {{{"load", Unit::pct}}}};
  static constexpr When when{};
  static constexpr Advice advice{
      .summary = "The winding stood at up to {value} (limit {limit}) for {for}",
      .causes = {"overload, or one leg carrying too much",
                 "cooling air blocked: screens, dirt, a cover left on",
                 "engine room too hot",
                 "rectifier or capacitor loads heating the winding"},
      .next = {"reduce load; let it run without load until it has cooled",
               "check the air path and clean the screens",
               "check amps per leg against the rating",
               "measure the engine-room temperature at full load"},
      .cautions = caution::kShock};
  static constexpr Explanation explanation{
      .sees =
          "Winding temperature at speed. Well over 90 degC (200 degF) is "
          "normal.",
      .decides = "Above the limit for 30 s, three readings at least.",
      .blind = "Without a winding temperature.",
      .fooled =
          "A class in the profile that is not the machine's; the hottest spot "
          "is some 10 to 15 K above the sensor."};

  /// In degC, by thermal class.
  static constexpr Limits limits(const Profile& profile) {
    constexpr float kClass[] = {105, 120, 130, 155, 180};
    const float most = kClass[static_cast<unsigned>(profile.rating.winding)];
    return with_overrides({.attention = level(most - 20, 30),
                           .urgent = level(most, 30),
                           .side = Side::above,
                           .unit = Unit::degC},
                          profile, info.id);
  }
  static constexpr float kDeadband = 2.0F;
};

}  // namespace telltale
