// Which finding follows from which, and which replaces which.
#pragma once

#include <array>
#include <concepts>
#include <cstdint>
#include <span>

#include "telltale/base/time.hpp"
#include "telltale/detect/checks/all.hpp"
#include "telltale/detect/finding.hpp"

namespace telltale {

/// `effect` may follow from `cause` when the cause began at least `lead` before
/// it (a negative lead: or so much after, delays differ) and the effect began
/// at most `lag` after the cause last held.
struct CauseRule {
  std::uint16_t effect;
  std::uint16_t cause;
  DurationMs lag;
  DurationMs lead = minutes(-1);
};

namespace detail {
template <template <class> class C>
inline constexpr std::uint16_t kIdOf = C<float>::info.id;
}  // namespace detail

/// In order of strength for each effect: the first that fits is named. What
/// the trade knows: without raw water the exhaust heats first and the coolant
/// minutes later; an overload drags volts, hertz and the winding with it.
inline constexpr std::array kCauseRules = {
    CauseRule{detail::kIdOf<AbruptStop>, detail::kIdOf<FuelStarvation>,
              minutes(10)},
    CauseRule{detail::kIdOf<AbruptStop>, detail::kIdOf<OilPressureLow>,
              minutes(5)},
    CauseRule{detail::kIdOf<AbruptStop>, detail::kIdOf<ExhaustJump>,
              minutes(20)},
    CauseRule{detail::kIdOf<AbruptStop>, detail::kIdOf<ExhaustHigh>,
              minutes(10)},
    CauseRule{detail::kIdOf<AbruptStop>, detail::kIdOf<CoolantHigh>,
              minutes(10)},
    CauseRule{detail::kIdOf<AbruptStop>, detail::kIdOf<WindingHigh>,
              minutes(10)},
    CauseRule{detail::kIdOf<AbruptStop>, detail::kIdOf<FrequencyHigh>,
              minutes(2)},
    CauseRule{detail::kIdOf<AbruptStop>, detail::kIdOf<OverExcitation>,
              minutes(2)},
    CauseRule{detail::kIdOf<AbruptStop>, detail::kIdOf<Overload>, minutes(5)},
    CauseRule{detail::kIdOf<ExhaustHigh>, detail::kIdOf<ExhaustJump>,
              minutes(30)},
    CauseRule{detail::kIdOf<ExhaustHigh>, detail::kIdOf<ExhaustClimb>,
              minutes(60)},
    CauseRule{detail::kIdOf<ExhaustClimb>, detail::kIdOf<ExhaustJump>,
              minutes(30)},
    CauseRule{detail::kIdOf<CoolantHigh>, detail::kIdOf<ExhaustJump>,
              minutes(30)},
    CauseRule{detail::kIdOf<CoolantHigh>, detail::kIdOf<CoolantClimb>,
              minutes(60)},
    CauseRule{detail::kIdOf<CoolantHigh>, detail::kIdOf<ExhaustClimb>,
              minutes(60)},
    CauseRule{detail::kIdOf<CoolantHigh>, detail::kIdOf<Overload>, minutes(30)},
    CauseRule{detail::kIdOf<CoolantClimb>, detail::kIdOf<ExhaustJump>,
              minutes(30)},
    CauseRule{detail::kIdOf<CoolantClimb>, detail::kIdOf<ExhaustClimb>,
              minutes(30)},
    CauseRule{detail::kIdOf<CoolantCold>, detail::kIdOf<LightLoad>, hours(24)},
    CauseRule{detail::kIdOf<WindingHigh>, detail::kIdOf<Overload>, minutes(60)},
    CauseRule{detail::kIdOf<WindingHigh>, detail::kIdOf<LegImbalance>,
              minutes(30)},
    CauseRule{detail::kIdOf<VoltageLow>, detail::kIdOf<Overload>, minutes(1)},
    CauseRule{detail::kIdOf<VoltageLow>, detail::kIdOf<FrequencyLow>,
              minutes(1)},
    CauseRule{detail::kIdOf<VoltageHigh>, detail::kIdOf<FrequencyHigh>,
              minutes(1)},
    CauseRule{detail::kIdOf<FrequencyLow>, detail::kIdOf<FuelStarvation>,
              minutes(5)},
    CauseRule{detail::kIdOf<FrequencyLow>, detail::kIdOf<Overload>, minutes(1)},
    CauseRule{detail::kIdOf<FrequencyHunting>, detail::kIdOf<FuelStarvation>,
              minutes(5)},
    CauseRule{detail::kIdOf<FrequencyDrift>, detail::kIdOf<FuelStarvation>,
              minutes(30)},
    CauseRule{detail::kIdOf<FrequencyDrift>, detail::kIdOf<FrequencyHigh>,
              minutes(10)},
    CauseRule{detail::kIdOf<FrequencyDrift>, detail::kIdOf<FrequencyLow>,
              minutes(10)},
    CauseRule{detail::kIdOf<VoltageUnbalance>, detail::kIdOf<LegImbalance>,
              minutes(1)},
    CauseRule{detail::kIdOf<VoltageHigh>, detail::kIdOf<VoltageUnbalance>,
              minutes(1)},
    CauseRule{detail::kIdOf<VoltageLow>, detail::kIdOf<VoltageUnbalance>,
              minutes(1)},
    CauseRule{detail::kIdOf<OilPressureLow>, detail::kIdOf<OilPressureSlow>,
              minutes(1)},
    CauseRule{detail::kIdOf<OilPressureLow>, detail::kIdOf<OilPressureFade>,
              minutes(60), minutes(2)},
    CauseRule{detail::kIdOf<OilPressureFade>, detail::kIdOf<OilPressureLow>,
              minutes(1)},
    CauseRule{detail::kIdOf<ChargingLow>, detail::kIdOf<ChargingFade>,
              minutes(60), minutes(5)},
    CauseRule{detail::kIdOf<ChargingFade>, detail::kIdOf<ChargingLow>,
              minutes(60)},
    CauseRule{detail::kIdOf<CrankDip>, detail::kIdOf<BatteryRestLow>,
              minutes(10)},
    CauseRule{detail::kIdOf<LongCrank>, detail::kIdOf<CrankDip>, minutes(10)},
    CauseRule{detail::kIdOf<RepeatedCranking>, detail::kIdOf<CrankDip>,
              minutes(10)},
    CauseRule{detail::kIdOf<AlarmFlood>, detail::kIdOf<AlarmChatter>,
              minutes(10)},
    CauseRule{detail::kIdOf<HoursMismatch>, detail::kIdOf<ClockStepCheck>,
              hours(24)},
    CauseRule{detail::kIdOf<HoursMismatch>, detail::kIdOf<DataGap>, hours(24)}};

/// Whether `effect` follows from `cause` by that rule.
template <std::floating_point R>
constexpr bool follows(const CauseRule& rule, const Finding<R>& effect,
                       const Finding<R>& cause) {
  return rule.effect == effect.check && rule.cause == cause.check &&
         cause.since + rule.lead <= effect.since &&
         effect.since <= cause.until + rule.lag;
}

/// The check that `effect` follows from, of those found in the same run; 0:
/// none of them.
template <std::floating_point R>
constexpr std::uint16_t cause_of(const Finding<R>& effect,
                                 std::span<const Finding<R>> run) {
  for (const CauseRule& rule : kCauseRules) {
    if (rule.effect != effect.check) continue;
    for (const Finding<R>& other : run) {
      if (follows(rule, effect, other)) return rule.cause;
    }
  }
  return 0;
}

/// Over-excitation replaces the general findings of the same stretch,
/// fluttering oil pressure the single readings that stood out before it was
/// known, and a frozen sensor what was judged by its readings since: true where
/// `general` lies mostly inside `special`.
template <std::floating_point R>
constexpr bool replaced_by(const Finding<R>& general,
                           const Finding<R>& special) {
  const bool boost = special.check == detail::kIdOf<OverExcitation> &&
                     (general.check == detail::kIdOf<FrequencyHigh> ||
                      general.check == detail::kIdOf<VoltageHigh>);
  const bool flutter = special.check == detail::kIdOf<OilPressureUnsteady> &&
                       general.check == detail::kIdOf<SensorSpike> &&
                       general.channel == special.channel;
  const bool frozen = special.check == detail::kIdOf<SensorFrozen> &&
                      general.check != special.check &&
                      general.channel == special.channel &&
                      general.channel != Channel::none;
  if (frozen) return general.since >= special.since;
  if (!boost && !flutter) return false;
  const DurationMs slack = boost ? seconds(15) : seconds(90);
  return general.since >= special.since - slack &&
         general.until <= special.until + slack;
}

}  // namespace telltale
