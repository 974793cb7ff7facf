// From faults to what they do to the parts of the set.
#include "simulate/ailments.hpp"

#include <algorithm>

namespace telltale::host::sim {
namespace {

// Which share of the raw water must be missing for the exhaust to be `k`
// hotter at rated load. Both parts of the rise above the sea, that through the
// exchanger and that by the gas, go with 1 / flow.
double water_missing(double k, const ThermalSpec& thermal) {
  const double sound =
      thermal.sea_rise_k + (thermal.gas_rated_c - 50.0) * thermal.gas_to_water;
  return 1.0 - sound / (sound + k);
}

void abrupt_stop(const Fault& fault, double t_s, Ailments& a) {
  const double since = t_s - fault.at_s;
  if (since < 0.0) return;
  switch (static_cast<AbruptCause>(static_cast<int>(fault.full_size()))) {
    case AbruptCause::fuel_shut:  // sags for three minutes, then nothing
      a.sag_pct = std::max(a.sag_pct, 7.0 + since / 30.0);
      a.fuel_shut = since > 180.0;
      break;
    case AbruptCause::oil_lost:
      a.pump_loss = std::max(a.pump_loss, std::min(since / 40.0, 0.97));
      break;
    case AbruptCause::overheated:
      a.cooling_loss = std::max(a.cooling_loss, std::min(since / 5.0, 0.98));
      break;
    case AbruptCause::seized:  // tightens for a minute, then locks
      a.drag = std::max(a.drag, since < 60.0 ? 0.25 * since / 60.0 : 6.0);
      break;
    case AbruptCause::emergency:
      a.emergency_stop = true;
      break;
  }
}

void apply(const Fault& fault, const SetSpec& set, double t_s, Ailments& a) {
  const double share = fault.share(t_s);
  const double part = fault.full_size() * share;
  const bool wet = set.rating.exhaust == Exhaust::wet;
  using enum FaultKind;
  switch (fault.kind) {
    case frequency_high:
      a.speed_pct += part;
      break;
    case frequency_low:
      a.speed_pct -= part;
      break;
    case frequency_drift:
      a.creep_pct += part;
      break;
    case frequency_hunting:
      a.hunting_pct = std::max(a.hunting_pct, part);
      break;
    case frequency_droop:
      if (share > 0.0)
        a.droop_pct = fault.full_size() - set.alternator.slip_pct;
      break;
    case speed_frequency_mismatch:
      a.rpm_error_pct += part;
      break;
    case load_step_response:
      if (share > 0.0) a.slowness = std::max(a.slowness, fault.full_size());
      break;
    case voltage_high:
      a.volts_pct += part;
      break;
    case voltage_low:
      a.volts_pct -= part;
      break;
    case voltage_unbalance:
      a.unbalance_pct = std::max(a.unbalance_pct, part);
      break;
    case over_excitation:
      a.boost_held_pct = std::max(a.boost_held_pct, part);
      break;
    case fuel_starvation:
      a.sag_pct = std::max(a.sag_pct, part);
      break;
    case oil_pressure_low:
      a.pump_loss = std::max(a.pump_loss, part / 100.0);
      break;
    case oil_pressure_fade:
      a.pressure_loss = std::max(a.pressure_loss, part / 100.0);
      break;
    case oil_pressure_slow:
      if (share > 0.0) a.fill_s = std::max(a.fill_s, fault.full_size());
      break;
    case oil_pressure_unsteady:
      a.flutter = std::max(a.flutter, part / 100.0);
      break;
    case coolant_high:
    case coolant_climb:
      a.cooling_loss = std::max(a.cooling_loss, part / 100.0);
      break;
    case coolant_cold:
      a.thermostat_open = std::max(a.thermostat_open, part / 100.0);
      break;
    case exhaust_high:
    case exhaust_climb:
      if (wet) {
        a.water_loss = std::max(a.water_loss, water_missing(part, set.thermal));
      } else {
        a.gas_k += part;
      }
      break;
    case exhaust_jump:
      if (wet) a.water_loss = std::max(a.water_loss, part / 100.0);
      break;
    case winding_high:
      a.ventilation_loss = std::max(a.ventilation_loss, part / 100.0);
      break;
    case charging_low:
    case charging_high: {
      const double sound = set.battery.charge_v;
      if (share > 0.0) a.charge_v = sound + (fault.full_size() - sound) * share;
      break;
    }
    case charging_fade:
      a.charge_fade_v += part;
      break;
    case crank_dip:
      a.resistance = 1.0 + (fault.full_size() - 1.0) * share;
      break;
    case battery_rest_low:
      if (share > 0.0) a.rest_v = fault.full_size();
      break;
    case hours_mismatch:
      a.meter_pct += part;
      break;
    case abrupt_stop:
      sim::abrupt_stop(fault, t_s, a);
      break;
    default:  // shapes the plan, the sensors, the log or the alarms instead
      break;
  }
}

}  // namespace

Ailments ailments_at(std::span<const Fault> faults, const SetSpec& set,
                     double t_s) {
  Ailments a;
  for (const Fault& fault : faults) apply(fault, set, t_s, a);
  return a;
}

}  // namespace telltale::host::sim
