// leg-imbalance: current between the legs.
#pragma once

#include <algorithm>

#include "telltale/detect/check.hpp"
#include "telltale/detect/legs.hpp"

namespace telltale {

template <std::floating_point R>
class LegImbalance {
 public:
  static constexpr CheckInfo info{
      .id = 14,
      .slug = "leg-imbalance",
      .title = "Legs carry different currents",
      .needs = bit(Channel::current_l1) | bit(Channel::current_l2),
      .source =
          "common practice: no standard limits the legs of a small set; "
          "rated leg current = rating / (legs x leg volts x power "
          "factor)",
      .details = {{{"amps L1", Unit::A},
                   {"amps L2", Unit::A},
                   {"amps L3", Unit::A},
                   {"rated per leg", Unit::A}}}};
  static constexpr When when{.block = true};
  static constexpr Advice advice{
      .summary =
          "The legs' currents differed by up to {value} of a leg's "
          "rating (limit {limit}) for {for}",
      .causes = {"single-leg loads unevenly shared on the panel",
                 "a heater or charger with half its elements dead",
                 "a large load moved to one leg after work on the panel"},
      .next = {"read amps per leg while switching the big loads one by one",
               "move single-leg circuits to the emptier leg",
               "keep each leg below its own rated current"},
      .cautions = caution::kShock};
  static constexpr Explanation explanation{
      .sees = "10 s means of the current in every leg, at speed.",
      .decides =
          "Largest minus smallest, in percent of a leg's rated "
          "current, above the limit for 10 min.",
      .blind =
          "With fewer than two legs' currents, or where rating, volts "
          "and legs are not all known.",
      .fooled = "A current transformer with the wrong ratio on one leg."};

  /// In percent of a leg's rated current.
  static constexpr Limits kUsual{
      .attention = level(40, 600), .side = Side::above, .unit = Unit::pct};
  static constexpr Limits limits(const Profile& profile) {
    return with_overrides(kUsual, profile, info.id);
  }
  void configure(const Profile& profile) {
    rated_ = static_cast<R>(rated_leg_amps(profile.rating));
  }

  bool step(const Moment<R>& m, Ledger<R>& ledger) {
    if (!(rated_ > R(0))) return false;
    const R l1 = (*m.block)[Channel::current_l1];
    const R l2 = (*m.block)[Channel::current_l2];
    const R l3 = (*m.block)[Channel::current_l3];
    if (!(l1 == l1) || !(l2 == l2)) return false;
    R high = std::max(l1, l2);
    R low = std::min(l1, l2);
    if (l3 == l3) {
      high = std::max(high, l3);
      low = std::min(low, l3);
    }
    const Channel leg = high == l1   ? Channel::current_l1
                        : high == l2 ? Channel::current_l2
                                     : Channel::current_l3;
    ledger.watch(m, {info.id, leg, Unit::pct}, R(100) * (high - low) / rated_,
                 LatchRule<R>::of(limits(*m.profile), R(5)),
                 {{l1, l2, l3, rated_}});
    return true;
  }
  [[nodiscard]] Blind blind() const {
    return rated_ > R(0) ? Blind::too_short : Blind::no_rating;
  }

 private:
  R rated_{};
};

}  // namespace telltale
