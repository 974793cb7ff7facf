#include "season/figure_facts.hpp"

#include <cmath>

#include "checks/catalogue.hpp"

namespace telltale::host::season {
namespace {

double attention(std::string_view check, const Profile& profile) {
  const CheckCard* card = check_named(check);
  if (card == nullptr) return kNone;
  return static_cast<double>(card->limits(profile).attention.limit);
}

/// Limits that a check states in percent of a nominal value.
double relative(std::string_view check, const Profile& profile,
                double nominal) {
  return nominal * (1.0 + attention(check, profile) / 100.0);
}

double nominal_volts(Basis basis, const Rating& rating) {
  return static_cast<double>(basis == Basis::line ? rating.voltage_v
                                                  : rating.leg_voltage_v());
}

/// 12 V figures double at 24 V.
double battery_scale(const Rating& rating) {
  return rating.battery_v > 18.0F ? 2.0 : 1.0;
}

}  // namespace

Profile profile_of(const UnitDigest& unit) {
  Profile profile;
  profile.rating = unit.rating;
  for (const LimitOverride& limit : unit.limits) {
    if (!profile.limits.full()) profile.limits.push_back(limit);
  }
  return profile;
}

FigureLimits limits_of(FigureKind kind, Basis basis, const Profile& profile) {
  const double hz = static_cast<double>(profile.rating.frequency_hz);
  const double volts = nominal_volts(basis, profile.rating);
  Profile with_exhaust = profile;
  if (basis == Basis::dry) with_exhaust.rating.exhaust = Exhaust::dry;
  switch (kind) {
    case FigureKind::hot_oil_pressure:
      return {attention("oil-pressure-low", profile), kNone};
    case FigureKind::frequency_at_load:
      return {relative("frequency-low", profile, hz),
              relative("frequency-high", profile, hz)};
    case FigureKind::droop:
      return {kNone, attention("frequency-droop", profile)};
    case FigureKind::voltage_at_load:
      return {relative("voltage-low", profile, volts),
              relative("voltage-high", profile, volts)};
    case FigureKind::exhaust_at_load:
      return {kNone, attention("exhaust-high", with_exhaust)};
    case FigureKind::coolant_at_load:
      return {kNone, attention("coolant-high", profile)};
    case FigureKind::charging_voltage:
      return {attention("charging-low", profile),
              attention("charging-high", profile)};
    case FigureKind::crank_seconds:
      return {kNone, attention("long-crank", profile)};
    case FigureKind::crank_attempts:
      return {kNone, attention("repeated-cranking", profile)};
    case FigureKind::crank_dip:
      return {attention("crank-dip", profile), kNone};
    case FigureKind::light_load_share:
      return {kNone,
              static_cast<double>(
                  check_named("light-load")->limits(profile).note.limit)};
  }
  return {};
}

double worth_of(FigureKind kind, Basis basis, const Profile& profile,
                double level) {
  const double hz = static_cast<double>(profile.rating.frequency_hz);
  switch (kind) {
    case FigureKind::hot_oil_pressure:
      return 0.05 * std::abs(level);
    case FigureKind::frequency_at_load:
      return 0.006 * (std::isfinite(hz) ? hz : std::abs(level));
    case FigureKind::droop:
      return 1.0;
    case FigureKind::voltage_at_load:
      return 0.02 * std::abs(level);
    case FigureKind::exhaust_at_load:
      return basis == Basis::dry ? 30.0 : 5.0;
    case FigureKind::coolant_at_load:
      return 4.0;
    case FigureKind::charging_voltage:
      return 0.25 * battery_scale(profile.rating);
    case FigureKind::crank_seconds:
      return 1.5;
    case FigureKind::crank_attempts:
      return 0.8;
    case FigureKind::crank_dip:
      return 0.4 * battery_scale(profile.rating);
    case FigureKind::light_load_share:
      return 20.0;
  }
  return kNone;
}

std::vector<Influence> influences_on(FigureKind kind, Basis basis,
                                     const Profile& profile, double level) {
  const double size = std::abs(level);
  const bool sea_cooled = profile.rating.cooling == Cooling::sea_water;
  const double volts = battery_scale(profile.rating);
  switch (kind) {
    case FigureKind::hot_oil_pressure:
      // Pressure is between nearly free of viscosity (jets, relief valve) and
      // proportional to it (bearings): 0 to 2.3 times itself per decade.
      if (basis == Basis::coolant) {
        // More load heats the oil while the thermostat holds the coolant.
        return {{Cause::own, {1.0 * size, 0.8 * size}},
                {Cause::load, {-0.0015 * size, 0.003 * size}}};
      }
      return {{Cause::own, {1.1 * size, 0.6 * size}}};
    case FigureKind::frequency_at_load:
      // Droop of 0 to 6 % over the load range.
      return {{Cause::own, {-0.0003 * size, 0.0003 * size}}};
    case FigureKind::voltage_at_load:
      return {{Cause::own, {-0.0001 * size, 0.0005 * size}}};
    case FigureKind::exhaust_at_load:
      if (basis == Basis::dry) {
        return {{Cause::own, {3.0, 2.0}}, {Cause::air, {1.0, 1.0}}};
      }
      return {{Cause::own, {0.2, 0.2}}, {Cause::water, {0.9, 0.4}}};
    case FigureKind::coolant_at_load:
      return {{Cause::own, {0.08, 0.1}},
              {Cause::water, sea_cooled ? Prior{0.6, 0.4} : Prior{0.1, 0.2}}};
    case FigureKind::charging_voltage:
      // A compensated regulator takes back 10 to 30 mV per K at 12 V.
      return {{Cause::air, {-0.008 * volts, 0.015 * volts}}};
    case FigureKind::crank_seconds:
      return {{Cause::start, {-0.04, 0.05}}};
    case FigureKind::crank_dip:
      return {{Cause::start, {0.02 * volts, 0.03 * volts}}};
    case FigureKind::droop:
    case FigureKind::crank_attempts:
    case FigureKind::light_load_share:
      break;
  }
  return {};
}

}  // namespace telltale::host::season
