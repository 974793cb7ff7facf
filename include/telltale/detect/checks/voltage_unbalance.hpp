// voltage-unbalance: greatest deviation of a leg from the mean of the legs.
#pragma once

#include <algorithm>
#include <cmath>

#include "telltale/detect/check.hpp"
#include "telltale/detect/legs.hpp"

namespace telltale {

template <std::floating_point R>
class VoltageUnbalance {
 public:
  static constexpr CheckInfo info{
      .id = 10,
      .slug = "voltage-unbalance",
      .title = "Legs at different volts",
      .needs = bit(Channel::voltage_l1) | bit(Channel::voltage_l2),
      .source =
          "NEMA MG 1 definition (greatest deviation from the mean); "
          "3 %: ANSI C84.1, 5 %: NEMA MG 1 says do not operate",
      .details = {{{"volts L1", Unit::V},
                   {"volts L2", Unit::V},
                   {"volts L3", Unit::V}}}};
  static constexpr When when{.steady = true};
  static constexpr Advice advice{
      .summary =
          "The legs' volts differed by up to {value} from their mean "
          "(limit {limit}) for {for}",
      .causes = {"loads unevenly shared between the legs",
                 "loose or corroded connection in one leg or the neutral",
                 "winding or regulator fault", "one leg's voltage sensing off"},
      .next = {"measure each leg at the set's terminals, loaded and unloaded",
               "if it vanishes without load, share the loads out anew",
               "check neutral and leg connections, power off and locked",
               "compare winding resistances leg by leg"},
      .cautions = caution::kShock};
  static constexpr Explanation explanation{
      .sees = "Volts of all legs in the same reading, in settled running.",
      .decides =
          "The leg furthest from the mean of the legs, in percent of "
          "that mean, above the limit for 60 s. Leg-to-neutral volts "
          "are used because that is what controllers log; the angles "
          "between them are not seen.",
      .blind = "With fewer than two legs logged.",
      .fooled = "A leg column that holds something else."};

  static constexpr Limits kUsual{.attention = level(3, 60),
                                 .urgent = level(5, 60),
                                 .side = Side::above,
                                 .unit = Unit::pct};
  static constexpr Limits limits(const Profile& profile) {
    return with_overrides(kUsual, profile, info.id);
  }
  void configure(const Profile& profile) {
    edge_ = rule(profile).edge();
  }

  bool step(const Moment<R>& m, Ledger<R>& ledger) {
    R volts[3];
    int count = 0;
    R sum = R(0);
    for (Channel channel : kLegVolts) {
      if (!m[channel].good()) continue;
      volts[count++] = m[channel].value;
      sum += m[channel].value;
    }
    if (count < 2 || !(sum > R(0))) return false;
    // The greatest deviation from the mean, in percent of it.
    const R mean = sum * (count == 2 ? R(1) / R(2) : R(1) / R(3));
    int worst = 0;
    R most = R(0);
    for (int i = 0; i < count; ++i) {
      const R off = std::abs(volts[i] - mean);
      worst = off > most ? i : worst;
      most = off > most ? off : most;
    }
    // Compared without a division: nearly always that is all.
    if (ledger.minds(info.id, most * R(100), edge_ * mean, Side::above)) {
      const Channel leg = kLegVolts[static_cast<std::size_t>(worst)];
      ledger.watch(
          m, {info.id, leg, Unit::pct}, R(100) * most / mean,
          rule(*m.profile),
          {{volts[0], volts[1], count > 2 ? volts[2] : Finding<R>::kNone}});
    }
    return true;
  }
  [[nodiscard]] static Blind blind() { return Blind::never_steady; }

 private:
  static LatchRule<R> rule(const Profile& profile) {
    return LatchRule<R>::of(limits(profile), R(0.3));
  }

  R edge_ = Finding<R>::kNone;
};

}  // namespace telltale
