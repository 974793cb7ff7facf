// What a made-up generator set is: its ratings and the constants of its parts.
#pragma once

#include <array>
#include <cstdint>
#include <string>
#include <vector>

namespace telltale::host::sim {

enum class Cooling : std::uint8_t { fresh_water, sea_water };
enum class Exhaust : std::uint8_t { wet, dry };

/// The name plate. Becomes [unit] and [rating] of the profile.
struct Rating {
  double frequency_hz = 60.0;  // 50 or 60
  int poles = 2;               // 2, 4, 6 ...
  double power_kw = 8.0;
  double voltage_v = 240.0;   // leg to leg; leg to neutral when legs is 1
  int legs = 2;               // 1 single, 2 split-phase, 3 three-phase
  double power_factor = 1.0;  // at which power_kw holds
  double battery_v = 12.0;    // 12 or 24
  bool asynchronous = false;  // capacitor-excited, runs with slip
  char winding_class = 'F';   // thermal class of IEC 60085
  int performance_class = 2;  // ISO 8528-5: 1 is G1, 2 is G2, 3 is G3
  Cooling cooling = Cooling::fresh_water;
  Exhaust exhaust = Exhaust::wet;

  /// Nominal speed in rpm, 120 f / poles.
  [[nodiscard]] double speed_rpm() const {
    return 120.0 * frequency_hz / poles;
  }
  /// Nominal volts from a leg to neutral.
  [[nodiscard]] double leg_volts() const;
  /// Amps in each leg at rated power and power factor.
  [[nodiscard]] double leg_amps() const;
};

struct GovernorSpec {
  double no_load_pct = 4.0;          // speed above nominal without load
  double droop_pct = 4.0;            // no load to rated load; 0: isochronous
  double transient_droop_pct = 8.0;  // stiffness against sudden loads
  double reset_s = 0.6;          // how fast the transient droop is worked off
  double lag_s = 0.05;           // actuator and combustion
  double roughness_pct = 0.06;   // cyclic variation of speed, sd
  double warm_shift_pct = 0.15;  // setting moves down as it warms up
};

struct EngineSpec {
  double inertia_s = 1.0;        // stored energy over rated power
  double friction = 0.22;        // share of rated torque
  double torque_reserve = 1.28;  // greatest net torque over rated
  double crank_rpm = 220.0;      // warm, good battery
  double fire_s = 1.4;           // cranking before it fires, warm
  double run_up_torque = 0.45;   // net, while running up
  double full_load_l_h = 3.2;    // fuel at rated load
  double tank_l = 150.0;
};

/// An excitation and throttle boost that helps with sudden heavy loads.
struct BoostSpec {
  bool fitted = false;
  double dip_pct = 7.0;    // volts below nominal that call it
  double hold_s = 5.0;     // stays in so long after the dip is over
  double volts_pct = 3.5;  // what it adds to the volts by itself
  double speed_pct = 3.6;  // and to the speed setting
};

struct AlternatorSpec {
  double offset_pct = 0.5;       // volts above nominal without load
  double regulation_pct = 1.5;   // fall of volts to rated load
  double dip_reactance = 0.16;   // sudden dip per unit of rated current
  double recovery_s = 0.25;      // of the voltage regulator
  double leg_impedance = 0.015;  // unequal load on legs shifts their volts
  std::array<double, 3> leg_offset_pct = {0.15, -0.1, -0.05};
  double slip_pct = 0.0;         // at rated load; asynchronous sets only
  double winding_rise_k = 58.0;  // at rated current
  double core_rise_k = 14.0;     // at no load
  double winding_minutes = 16.0;
  BoostSpec boost;
};

struct ThermalSpec {
  double heating_k_per_min = 12.0;  // block and coolant at rated load, no loss
  double room_loss_per_min = 0.017;
  double exchanger_per_min = 0.40;  // thermostat wide open
  double thermostat_opens_c = 78.0;
  double thermostat_span_k = 12.0;
  double thermostat_lag_s = 22.0;
  double thermostat_stick_k = 0.8;    // hysteresis: makes it cycle a little
  double oil_above_coolant_k = 16.0;  // at rated load
  double oil_minutes = 6.0;
  double gas_idle_c = 140.0;  // exhaust gas before any water
  double gas_rated_c = 480.0;
  double gas_to_water = 0.05;  // heat capacity of gas flow over water flow
  double sea_rise_k = 11.0;    // raw water through the exchanger, rated load
  double exhaust_lag_s = 22.0;
};

struct OilSpec {
  double viscosity_40 = 105.0;  // mm2/s at 40 degC, 15W-40
  double viscosity_100 = 14.0;  // mm2/s at 100 degC
  double hot_kpa = 275.0;       // at 95 degC and nominal speed
  double relief_kpa = 430.0;
  double bearing_share = 0.45;  // of the flow when hot; the rest are jets
  double fill_s = 0.9;          // from first turn to pressure
  double sender_lag_s = 0.4;
};

struct BatterySpec {
  double rest_v = 12.65;         // per 12 V
  double resistance_mohm = 7.0;  // at 25 degC, per 12 V
  double crank_a = 195.0;        // steady cranking current, warm
  double preheat_a = 45.0;
  double charge_v = 14.2;        // at 25 degC, per 12 V
  double float_v = 0.0;          // per 12 V; 0: the charger has no float step
  double absorb_s = 2400.0;      // before it goes to float
  double compensation_mv_k = 0;  // per 12 V; 24 is usual where fitted
  double rise_s = 50.0;          // time constant to the set-point
};

/// What the controller does by itself.
struct ControllerSpec {
  double preheat_s = 8.0;
  double trip_oil_kpa = 75.0;  // 0: no such protection
  double trip_coolant_c = 108.0;
  double trip_exhaust_c = 0.0;
  double trip_overspeed_pct = 115.0;
  double trip_inhibit_s = 15.0;  // after the engine runs
};

/// Work that recurs by hours or months. Becomes [service] of the profile.
struct ServiceItem {
  std::string name;  // "oil"
  double every_h = 200.0;
  int every_months = 12;
  double done_h = 0.0;
  std::string done_on;  // YYYY-MM-DD
};

struct SetSpec {
  std::string name;
  Rating rating;
  GovernorSpec governor;
  EngineSpec engine;
  AlternatorSpec alternator;
  ThermalSpec thermal;
  OilSpec oil;
  BatterySpec battery;
  ControllerSpec controller;
  double hours = 1240.0;  // on the meter at the start of the log
  std::uint32_t starts = 860;
  std::vector<ServiceItem> service;
};

}  // namespace telltale::host::sim
