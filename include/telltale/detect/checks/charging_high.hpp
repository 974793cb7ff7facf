// charging-high: battery volts above what charging should reach.
#pragma once

#include "telltale/detect/threshold.hpp"

namespace telltale {

template <std::floating_point R>
class ChargingHigh
    : public Threshold<ChargingHigh<R>, R, Channel::battery_voltage> {
 public:
  static constexpr CheckInfo info{
      .id = 32,
      .slug = "charging-high",
      .title = "Battery charged too high",
      .needs = bit(Channel::battery_voltage),
      .source =
          "common practice; absorption of flooded batteries goes to 14.8 V, "
          "equalising to 15.5 V, at 25 degC",
      .details = {{{"load", Unit::pct}}}};
  static constexpr When when{};
  static constexpr Advice advice{
      .summary =
          "Battery volts stood at up to {value} (limit {limit}) for {for}",
      .causes = {"charging regulator failed",
                 "sense lead of the regulator open or corroded",
                 "a charger that is cold-compensated: up to 15.2 V near "
                 "freezing is meant",
                 "an equalising charge running from another charger"},
      .next = {"measure at the battery posts with a meter",
               "check the sense lead and the regulator's earth",
               "feel the battery for heat; ventilate before working there",
               "check the electrolyte level of flooded cells"},
      .cautions = caution::kBattery};
  static constexpr Explanation explanation{
      .sees = "Battery volts at speed.",
      .decides =
          "Above the limit for 30 s, three readings at least. Doubled for 24 "
          "V.",
      .blind = "Without battery volts.",
      .fooled =
          "Cold-compensated and equalising chargers are meant to go high: see "
          "the causes."};

  /// In volts, of a 12 V battery.
  static constexpr Limits kUsual{.attention = level(15.0F, 30),
                                 .urgent = level(15.5F, 30),
                                 .side = Side::above,
                                 .unit = Unit::V};
  static constexpr Limits limits(const Profile& profile) {
    return with_overrides(at_battery(kUsual, profile.rating.battery_v), profile,
                          info.id);
  }
  static constexpr float kDeadband = 0.1F;
};

}  // namespace telltale
