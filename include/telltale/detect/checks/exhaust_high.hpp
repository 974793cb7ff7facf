// exhaust-high: exhaust temperature above what hose or valves stand.
#pragma once

#include "telltale/detect/threshold.hpp"

namespace telltale {

template <std::floating_point R>
class ExhaustHigh
    : public Threshold<ExhaustHigh<R>, R, Channel::exhaust_temperature> {
 public:
  static constexpr CheckInfo info{
      .id = 27,
      .slug = "exhaust-high",
      .title = "Exhaust too hot",
      .needs = bit(Channel::exhaust_temperature),
      .source =
          "wet: hoses are rated 93 degC (200 degF), usual set-points 71 to 93 "
          "degC; dry: manifold gas of small diesels 400 to 600 degC at full "
          "load; common practice",
      .details = {{{"load", Unit::pct}}}};
  static constexpr When when{};
  static constexpr Advice advice{
      .summary = "Exhaust stood at up to {value} (limit {limit}) for {for}",
      .causes = {"raw-water flow low or lost: strainer, sea cock, impeller",
                 "injection elbow or hose blocked by scale",
                 "overload, or an engine over-fuelled",
                 "air filter blocked or turbocharger failing"},
      .next =
          {"reduce load and stop; hose and muffler can burn",
           "look for water at the exhaust outlet",
           "clean the strainer, check the impeller, feel the hoses for heat",
           "check the injection elbow for scale"},
      .cautions = caution::kExhaust};
  static constexpr Explanation explanation{
      .sees =
          "Exhaust temperature at speed, wet (after the raw-water injection) "
          "or dry (in the gas): the two differ by hundreds of degrees.",
      .decides = "Above the limit for 10 s, three readings at least.",
      .blind = "Without an exhaust temperature.",
      .fooled =
          "A wrong statement of where the sensor sits; a sensor on the hose "
          "surface lags."};

  /// In degC, by where the sensor sits.
  static constexpr Limits kWet{.attention = level(75, 10),
                               .urgent = level(95, 10),
                               .side = Side::above,
                               .unit = Unit::degC};
  static constexpr Limits kDry{.attention = level(550, 10),
                               .urgent = level(650, 10),
                               .side = Side::above,
                               .unit = Unit::degC};
  static constexpr Limits limits(const Profile& profile) {
    const bool dry = profile.rating.exhaust == Exhaust::dry;
    return with_overrides(dry ? kDry : kWet, profile, info.id);
  }
  static constexpr float kDeadband = 2.0F;
};

}  // namespace telltale
