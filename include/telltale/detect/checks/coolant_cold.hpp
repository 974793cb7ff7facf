// coolant-cold: the set never gets warm on load.
#pragma once

#include "telltale/detect/check.hpp"

namespace telltale {

template <std::floating_point R>
class CoolantCold {
 public:
  static constexpr CheckInfo info{
      .id = 26,
      .slug = "coolant-cold",
      .title = "Never gets warm",
      .needs = bit(Channel::coolant_temperature),
      .needs_one =
          bit(Channel::power) | bit(Channel::load) | bit(Channel::current_l1),
      .source =
          "common practice: thermostats open at 71 to 85 degC (fresh "
          "water) or 45 to 60 degC (sea water)",
      .details = {{{"load", Unit::pct}}}};
  static constexpr When when{.block = true};
  static constexpr Advice advice{
      .summary =
          "Coolant was only {value} after 20 min on load (warm is "
          "{limit} or more)",
      .causes = {"thermostat stuck open or left out",
                 "very light load in cold water",
                 "coolant sender reading low or sitting dry",
                 "none, if sea water cools the set directly: say so in "
                 "the profile (cooling = \"sea water\")"},
      .next = {"feel the thermostat housing: the outlet must stay cool until "
               "it opens",
               "take the thermostat out and test it in hot water",
               "compare the sender with a thermometer"},
      .cautions = caution::kCoolant};
  static constexpr Explanation explanation{
      .sees =
          "10 s means of coolant temperature once the set has been on "
          "load for 20 min of this run in all.",
      .decides = "Below the limit for a minute, while on load.",
      .blind = "Before 20 min on load.",
      .fooled =
          "A load of a few percent may not warm the engine in cold "
          "water: the advice says so."};

  /// In degC, by kind of cooling.
  static constexpr Limits kFreshWater{
      .attention = level(65, 60), .side = Side::below, .unit = Unit::degC};
  static constexpr Limits kSeaWater{
      .attention = level(40, 60), .side = Side::below, .unit = Unit::degC};
  static constexpr Limits limits(const Profile& profile) {
    const bool sea = profile.rating.cooling == Cooling::sea_water;
    return with_overrides(sea ? kSeaWater : kFreshWater, profile, info.id);
  }

  bool step(const Moment<R>& m, Ledger<R>& ledger) {
    if (m.phase != Phase::on_load) return false;
    if (on_load_ms_ < kWarmUp.ms) {
      on_load_ms_ += static_cast<std::uint32_t>(m.block->length.ms);
    }
    const R coolant = (*m.block)[Channel::coolant_temperature];
    if (on_load_ms_ < kWarmUp.ms || !(coolant == coolant)) return false;
    ledger.watch(m, kAbout, coolant, rule);
    return true;
  }
  void reset() { on_load_ms_ = 0; }
  [[nodiscard]] static constexpr Blind blind() { return Blind::never_on_load; }

 private:
  static constexpr SpanOf<R> kWarmUp = minutes(20);

  static constexpr About kAbout{info.id, Channel::coolant_temperature,
                                Unit::degC};

  static LatchRule<R> rule(const Profile& profile) {
    return LatchRule<R>::of(limits(profile), R(1));
  }

  std::uint32_t on_load_ms_ = 0;
};

}  // namespace telltale
