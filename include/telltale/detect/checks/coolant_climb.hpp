// coolant-climb: coolant still climbing after the thermostat was once found.
#pragma once

#include <cmath>

#include "telltale/base/compact.hpp"
#include "telltale/condition/slope_window.hpp"
#include "telltale/detect/check.hpp"

namespace telltale {

template <std::floating_point R>
class CoolantClimb {
 public:
  static constexpr CheckInfo info{
      .id = 25,
      .slug = "coolant-climb",
      .title = "Coolant keeps climbing",
      .needs = bit(Channel::coolant_temperature),
      .source = "common practice: a thermostat that works holds its level",
      .details = {{{"coolant", Unit::degC},
                   {"minutes to the limit", Unit::one},
                   {"limit", Unit::degC}}}};
  static constexpr When when{.block = true};
  static constexpr Advice advice{
      .summary =
          "Coolant climbed at {value} at comparable load, from a level "
          "the thermostat had held (limit {limit}); it stood at {d0}",
      .causes = {"raw-water flow getting less: strainer filling, impeller "
                 "losing vanes",
                 "heat exchanger fouling", "coolant being lost",
                 "belt of the circulating pump slipping"},
      .next = {"clean the strainer and look at the flow at the outlet",
               "check the impeller; count its vanes",
               "check the coolant level, only when cold", "check the belt"},
      .cautions = caution::kCoolant | caution::kExhaust | caution::kRotating};
  static constexpr Explanation explanation{
      .sees =
          "Coolant temperature as 30 s means over 10 min, at load that "
          "stays comparable.",
      .decides =
          "Only after the thermostat was once found (a rate below 0.1 "
          "degC a minute): the slope over 10 min above the limit, and "
          "no less in the second half, with the whole window above 80 "
          "degC (60 degC for direct sea-water cooling).",
      .blind =
          "Before the thermostat is found; for 10 min after any change "
          "of load by over 10 % of rating.",
      .fooled =
          "Steaming into much warmer water with a marginal exchanger: "
          "true, but no sudden fault."};

  /// In degC a minute.
  static constexpr Limits kUsual{.attention = level(0.3F, 600),
                                 .side = Side::above,
                                 .unit = Unit::K_per_min};
  static constexpr Limits limits(const Profile& profile) {
    return with_overrides(kUsual, profile, info.id);
  }
  void configure(const Profile& profile) {
    const bool sea = profile.rating.cooling == Cooling::sea_water;
    hot_ = sea ? R(60) : R(80);
    alarm_ = sea ? R(75) : R(95);
  }

  bool step(const Moment<R>& m, Ledger<R>& ledger) {
    const R coolant = (*m.block)[Channel::coolant_temperature];
    if (!(coolant == coolant)) return false;
    if (m.load_moved_at != load_moved_at_) {
      load_moved_at_ = m.load_moved_at;
      window_.clear();
    }
    if (!window_.add(m.block->length, coolant) || !window_.full()) {
      return found_ && window_.full();
    }
    const R rate = window_.per_minute();
    if (!found_) {
      found_ = std::abs(rate) < kHeld && window_.newest() > kWarm;
      return false;
    }
    const Level level = limits(*m.profile).attention;
    const R limit = static_cast<R>(level.limit);
    const bool climbs = rate > limit && window_.per_minute(R(0.5)) > limit &&
                        window_.end_to_end_per_minute() > limit &&
                        window_.lowest() > hot_;
    if (climbs) {
      const R left = (alarm_ - window_.newest()) / rate;
      ledger.hold({info.id, Channel::coolant_temperature, Unit::K_per_min,
                   Severity::attention},
                  {m.at - level.delay(), m.at}, rate, limit,
                  {{window_.newest(), left > R(0) ? left : R(0), alarm_}});
    } else {
      ledger.close_after(info.id, m.at, minutes(5));
    }
    return true;
  }
  void reset() {
    window_.clear();
    found_ = false;
    load_moved_at_ = kNoTime;
  }
  [[nodiscard]] static constexpr Blind blind() { return Blind::never_settled; }

 private:
  static constexpr R kHeld = R(0.1);  // degC a minute
  static constexpr R kWarm = R(40);

  SlopeWindow<R, 20, minutes(10), Compact<R, CelsiusRange>> window_;
  TimeOf<R> load_moved_at_ = kNoTime;
  R hot_{};
  R alarm_{};
  bool found_ = false;
};

}  // namespace telltale
