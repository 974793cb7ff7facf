// Ailments: what the faults do to the parts of the set at one time.
#pragma once

#include <cmath>
#include <limits>
#include <span>

#include "simulate/fault.hpp"
#include "simulate/set.hpp"

namespace telltale::host::sim {

struct Ailments {
  double speed_pct = 0.0;       // on the governor's setting
  double creep_pct = 0.0;       // likewise, creeping
  double droop_pct = -1.0;      // governor droop; negative: the sound one
  double slowness = 1.0;        // of the governor
  double hunting_pct = 0.0;     // full width
  double sag_pct = 0.0;         // depth of a sag from lack of fuel
  double volts_pct = 0.0;       // on the regulator's setting
  double unbalance_pct = 0.0;   // greatest deviation of a leg from the mean
  double boost_held_pct = 0.0;  // volts; above 0: held in from the start
  double pump_loss = 0.0;       // shares, 0 to 1, from here
  double pressure_loss = 0.0;   // wear: of hot pressure
  double flutter = 0.0;         // sd over mean
  double fill_s = 0.0;          // later oil pressure; 0: the sound time
  double cooling_loss = 0.0;
  double thermostat_open = 0.0;  // at least so far open
  double water_loss = 0.0;       // raw water
  double gas_k = 0.0;            // hotter exhaust gas at rated load
  double ventilation_loss = 0.0;
  double charge_v = 0.0;       // per 12 V; 0: the sound set-point
  double charge_fade_v = 0.0;  // per 12 V
  double resistance = 1.0;     // battery and cables, times the sound one
  double rest_v = 0.0;         // per 12 V; 0: the sound one
  double drag = 0.0;           // torque of a seizing engine over rated
  bool fuel_shut = false;
  bool emergency_stop = false;
  double meter_pct = 0.0;      // hour meter fast
  double rpm_error_pct = 0.0;  // speed reading
};

Ailments ailments_at(std::span<const Fault> faults, const SetSpec& set,
                     double t_s);

}  // namespace telltale::host::sim
