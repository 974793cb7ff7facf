// How sets of one kind differ from each other while all of them are sound.
#include <algorithm>

#include "simulate/random_scenario.hpp"

namespace telltale::host::sim {
namespace {

double vary(double value, double share, Random& random) {
  return value * random.between(1.0 - share, 1.0 + share);
}

void vary_governor(SetSpec& set, Random& random) {
  GovernorSpec& governor = set.governor;
  const bool isochronous = governor.droop_pct == 0.0;
  if (!isochronous && !set.rating.asynchronous && random.chance(0.2)) {
    governor.droop_pct = 0.0;  // an electronic governor was fitted
    governor.no_load_pct = random.between(-0.2, 0.4);
    governor.transient_droop_pct = 7.0;
    governor.warm_shift_pct = 0.0;
    governor.roughness_pct *= 0.6;
  } else if (!isochronous) {
    governor.droop_pct = vary(governor.droop_pct, 0.12, random);
    // Somebody set it about right at half load.
    governor.no_load_pct = std::min(vary(governor.no_load_pct, 0.10, random),
                                    set.rating.asynchronous ? 5.0 : 4.6);
  }
  governor.reset_s = vary(governor.reset_s, 0.15, random);
  governor.roughness_pct = vary(governor.roughness_pct, 0.4, random);
}

void vary_alternator(SetSpec& set, Random& random) {
  AlternatorSpec& alternator = set.alternator;
  alternator.offset_pct += random.between(-0.8, 0.8);
  alternator.regulation_pct = vary(alternator.regulation_pct, 0.3, random);
  alternator.dip_reactance = vary(alternator.dip_reactance, 0.2, random);
  for (double& offset : alternator.leg_offset_pct) {
    offset = random.between(-0.4, 0.4);
  }
  alternator.winding_rise_k = vary(alternator.winding_rise_k, 0.08, random);
  alternator.winding_minutes = vary(alternator.winding_minutes, 0.25, random);
  alternator.slip_pct = vary(alternator.slip_pct, 0.15, random);
}

void vary_fluids(SetSpec& set, Random& random) {
  ThermalSpec& thermal = set.thermal;
  thermal.heating_k_per_min = vary(thermal.heating_k_per_min, 0.12, random);
  thermal.exchanger_per_min = vary(thermal.exchanger_per_min, 0.12, random);
  thermal.thermostat_opens_c += random.between(-2.0, 1.5);
  thermal.thermostat_stick_k = random.between(0.2, 2.0);
  thermal.thermostat_lag_s = vary(thermal.thermostat_lag_s, 0.3, random);
  thermal.gas_rated_c = vary(thermal.gas_rated_c, 0.05, random);
  thermal.exhaust_lag_s = vary(thermal.exhaust_lag_s, 0.3, random);
  OilSpec& oil = set.oil;
  oil.hot_kpa = vary(oil.hot_kpa, 0.12, random);
  oil.relief_kpa =
      std::max(vary(oil.relief_kpa, 0.12, random), oil.hot_kpa * 1.25);
  oil.bearing_share = random.between(0.38, 0.52);
  oil.fill_s = random.between(0.5, 2.2);
  switch (random.below(3)) {
    case 0:  // 15W-40
      oil.viscosity_40 = 105.0;
      oil.viscosity_100 = 14.0;
      break;
    case 1:  // SAE 30
      oil.viscosity_40 = 95.0;
      oil.viscosity_100 = 11.0;
      break;
    default:  // 10W-30
      oil.viscosity_40 = 70.0;
      oil.viscosity_100 = 10.8;
  }
}

void vary_electrics(SetSpec& set, Random& random) {
  BatterySpec& battery = set.battery;
  battery.rest_v = random.between(12.50, 12.78);
  battery.resistance_mohm = vary(battery.resistance_mohm, 0.10, random);
  battery.charge_v = random.between(13.9, 14.45);
  battery.float_v = random.chance(0.35) ? random.between(13.5, 13.8) : 0.0;
  battery.absorb_s = random.between(900.0, 3000.0);
  battery.compensation_mv_k = random.chance(0.35) ? 20.0 : 0.0;
  battery.rise_s = random.between(25.0, 75.0);
  set.controller.preheat_s = random.chance(0.2) ? random.between(20.0, 40.0)
                                                : random.between(3.0, 14.0);
  set.engine.fire_s = random.between(0.9, 1.9);
}

}  // namespace

void vary_set(SetSpec& set, Random& random) {
  vary_governor(set, random);
  vary_alternator(set, random);
  vary_fluids(set, random);
  vary_electrics(set, random);
  set.engine.inertia_s = vary(set.engine.inertia_s, 0.15, random);
  set.engine.full_load_l_h = vary(set.engine.full_load_l_h, 0.08, random);
  const double age = random.between_log(0.15, 3.0);
  set.hours = std::max(set.hours * age, 120.0);
  set.starts = static_cast<std::uint32_t>(set.starts * age) + 20;
  for (ServiceItem& item : set.service) {
    // A young set may have had no service yet.
    item.done_h =
        std::max(0.0, set.hours - random.between(0.05, 0.7) * item.every_h);
  }
}

}  // namespace telltale::host::sim
