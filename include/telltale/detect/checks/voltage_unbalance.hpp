// voltage-unbalance: greatest deviation of a leg from the mean of the legs.
#pragma once

#include <algorithm>
#include <cmath>

#include "telltale/detect/check.hpp"
#include "telltale/detect/legs.hpp"

namespace telltale {

/// Greatest deviation from the mean, in percent of the mean (NEMA MG 1 form).
/// NaN below two values. `worst` is the index of the value furthest off.
template <std::floating_point R>
R unbalance_pct(const R* values, int count, int* worst = nullptr) {
  if (count < 2) return Finding<R>::kNone;
  R sum = R(0);
  for (int i = 0; i < count; ++i) sum += values[i];
  const R mean = sum / static_cast<R>(count);
  R most = R(0);
  for (int i = 0; i < count; ++i) {
    const R off = std::abs(values[i] - mean);
    if (off > most) {
      most = off;
      if (worst != nullptr) *worst = i;
    }
  }
  return mean > R(0) ? R(100) * most / mean : Finding<R>::kNone;
}

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
  void configure(const Profile& profile) { edge_ = rule(profile).edge(); }

  bool step(const Moment<R>& m, Ledger<R>& ledger) {
    R volts[3];
    int count = 0;
    R low = R(0), high = R(0);
    for (Channel channel : kLegVolts) {
      const auto& reading = m[channel];
      if (!reading.good()) continue;
      low = count == 0 || reading.value < low ? reading.value : low;
      high = count == 0 || reading.value > high ? reading.value : high;
      volts[count++] = reading.value;
    }
    if (count < 2 || !(high > R(0))) return false;
    // No leg is further from the mean than the legs are apart, and the mean no
    // lower than the lowest: nearly always that is all there is to ask.
    if (!ledger.minds(info.id, (high - low) * R(100), edge_ * low,
                      Side::above)) {
      return true;
    }
    int worst = 0;
    const R percent = unbalance_pct(volts, count, &worst);
    const Channel leg = kLegVolts[static_cast<std::size_t>(worst)];
    ledger.watch(
        m, {info.id, leg, Unit::pct}, percent, rule(*m.profile),
        {{volts[0], volts[1], count > 2 ? volts[2] : Finding<R>::kNone}});
    return true;
  }
  [[nodiscard]] static constexpr Blind blind() { return Blind::never_steady; }

 private:
  static LatchRule<R> rule(const Profile& profile) {
    return LatchRule<R>::of(limits(profile), R(0.3));
  }

  R edge_{};
};

}  // namespace telltale
