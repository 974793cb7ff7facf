// oil-pressure-low: oil pressure at speed, against what the speed needs.
#pragma once

#include <algorithm>

#include "telltale/detect/check.hpp"

namespace telltale {

template <std::floating_point R>
class OilPressureLow {
 public:
  static constexpr CheckInfo info{
      .id = 20,
      .slug = "oil-pressure-low",
      .title = "Oil pressure low",
      .needs = bit(Channel::oil_pressure),
      .source =
          "common practice: switches of small marine diesels close at "
          "30 to 100 kPa; 47 and 28 kPa per 1000 rpm are below the "
          "workshop rule of 69 kPa (10 psi) per 1000 rpm",
      .details = {{{"speed", Unit::rpm}, {"oil or coolant", Unit::degC}}}};
  static constexpr When when{.phases = kSelfRunning};
  static constexpr Advice advice{
      .summary =
          "Oil pressure fell to {value} at speed (limit {limit}) for "
          "{for}",
      .causes = {"oil level low",
                 "oil thinned by fuel or heat, or the wrong grade",
                 "relief valve stuck open, filter or pick-up blocked",
                 "worn pump or bearings", "sender or its wiring at fault"},
      .next = {"stop the set; check the level before anything else",
               "smell and feel the oil for fuel; change it if in doubt",
               "compare with a mechanical gauge at the sender's port",
               "change the filter, check the relief valve",
               "have the bearings looked at if a gauge confirms it"},
      .cautions = caution::kHotOil | caution::kRotating};
  static constexpr Explanation explanation{
      .sees =
          "Oil pressure while the speed is within 10 % of nominal, from "
          "10 s after the start.",
      .decides =
          "Below the limit for 3 s and two readings. Limits rise with "
          "rated speed; where that is unknown the floor alone counts.",
      .blind = "Without an oil-pressure column, and off nominal speed.",
      .fooled = "A sender whose zero is off: compare with the engine at rest."};

  /// In kPa.
  static constexpr Limits limits(const Profile& profile) {
    const float rpm = profile.rating.speed_rpm();
    const float krpm = is_known(rpm) ? rpm / 1000.0F : 0.0F;
    return with_overrides({.attention = level(std::max(110.0F, 47 * krpm), 3),
                           .urgent = level(std::max(80.0F, 28 * krpm), 3),
                           .side = Side::below,
                           .unit = Unit::kPa},
                          profile, info.id);
  }
  void configure(const Profile& profile) {
    edge_ = rule(profile).edge();
    rated_speed_ = is_known(profile.rating.speed_rpm());
  }

  bool step(const Moment<R>& m, Ledger<R>& ledger) {
    const auto& pressure = m[Channel::oil_pressure];
    const bool settled =
        m.run->begins_in_log || m.since_running() >= kAfterStart;
    if (!pressure.good() || !settled || !near_speed(m)) return false;
    if (ledger.minds(info.id, pressure.value, edge_, Side::below)) {
      const auto& oil = m[Channel::oil_temperature];
      const auto& coolant = m[Channel::coolant_temperature];
      ledger.watch(m, kAbout, pressure.value, rule(*m.profile),
                   {{m[Channel::engine_speed].value,
                     oil.usable() ? oil.value : coolant.value}});
    }
    return true;
  }
  [[nodiscard]] static constexpr Blind blind() { return Blind::never_steady; }

 private:
  static constexpr SpanOf<R> kAfterStart = seconds(10);

  [[nodiscard]] bool near_speed(const Moment<R>& m) const {
    if (m.falling || !m.at_speed()) return false;
    // Without a rated speed, its own level will do.
    const R ratio = rated_speed_ ? m.turn_ratio : m.turn_ratio / m.turn_level;
    return ratio > R(0.9) && ratio < R(1.1);
  }
  static constexpr About kAbout{info.id, Channel::oil_pressure, Unit::kPa};

  static LatchRule<R> rule(const Profile& profile) {
    LatchRule<R> rule = LatchRule<R>::of(limits(profile), R(10));
    rule.readings = 2;
    return rule;
  }

  R edge_{};
  bool rated_speed_ = false;
};

}  // namespace telltale
