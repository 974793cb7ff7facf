// Sizes that leave no doubt.
#include <cmath>

#include "simulate/random_scenario.hpp"

namespace telltale::host::sim {
namespace {

double signed_size(double low, double high, Random& random) {
  const double size = random.between(low, high);
  return random.chance(0.5) ? size : -size;
}

// Resistance that makes the battery sag to `volts` (per 12 V) when cranking.
double resistance_for(double volts, const BatterySpec& battery) {
  constexpr double kColdOil = 1.2;  // current against that of a warm engine
  const double sound_drop =
      battery.crank_a * kColdOil * battery.resistance_mohm / 1000.0;
  return (battery.rest_v - volts) / sound_drop;
}

}  // namespace

double clear_size(FaultKind kind, const SetSpec& set, Random& random) {
  const int g = set.rating.performance_class - 1;
  const bool dry = set.rating.exhaust == Exhaust::dry;
  constexpr double kSwing[] = {2.5, 1.5, 0.5};
  constexpr double kDroop[] = {8.0, 5.0, 3.0};
  using enum FaultKind;
  switch (kind) {
    case frequency_high:
      return random.between(6.4, 8.6);
    case frequency_low:
      return random.between(8.5, 11.5);
    case frequency_drift:
      return signed_size(1.8, 3.5, random);
    case frequency_hunting:
      return kSwing[g] * random.between(1.5, 3.5);
    case frequency_droop:
      return kDroop[g] + random.between(2.2, 4.5);
    case speed_frequency_mismatch:
      return signed_size(2.0, 6.0, random);
    case load_step_response:
      return g == 0 ? random.between(15.0, 19.0) : random.between(9.0, 13.0);
    case voltage_high:
      return random.between(8.5, 13.0);
    case voltage_low:
      return random.between(13.0, 18.0);
    case voltage_unbalance:
      return random.between(4.2, 9.0);
    case over_excitation:
      return random.between(7.5, 11.0);
    case overload:
      return random.between(113.0, 122.0);
    case light_load:
      return random.between(7.0, 22.0);
    case leg_imbalance:
      return random.between(50.0, 75.0);
    case early_load:
      return random.between(63.0, 90.0);
    case stop_under_load:
      return random.between(25.0, 70.0);
    case short_cool_down:
      return random.between(15.0, 80.0);
    case abrupt_stop:
      return random.below(5);
    case fuel_starvation:
      return random.between(8.0, 14.0);
    case oil_pressure_low:
      return random.between(60.0, 75.0);
    case oil_pressure_fade:
      return random.between(15.0, 38.0);
    case oil_pressure_slow:
      return random.between(18.0, 30.0);
    case oil_pressure_unsteady:
      return random.between(8.0, 20.0);
    case coolant_high:
      return random.between(90.0, 99.0);
    case coolant_climb:
      return set.rating.cooling == Cooling::sea_water
                 ? random.between(86.0, 94.0)
                 : random.between(78.0, 90.0);
    case coolant_cold:
      return random.between(70.0, 100.0);
    case exhaust_high:
      return dry ? random.between(250.0, 340.0) : random.between(75.0, 105.0);
    case exhaust_jump:
      return random.between(92.0, 99.0);
    case exhaust_climb:
      return random.between(38.0, 65.0);
    case winding_high:
      return random.between(62.0, 75.0);
    case charging_low:
      return random.between(12.0, 12.85);
    case charging_high:
      return random.between(15.3, 16.4);
    case charging_fade:
      // down to less than 13.2 V
      return (set.battery.float_v > 0.0 ? set.battery.float_v
                                        : set.battery.charge_v) -
             random.between(12.3, 12.95);
    case crank_dip:
      return resistance_for(random.between(7.4, 9.1), set.battery);
    case battery_rest_low:
      return random.between(11.6, 12.1);
    case long_crank:
      return random.chance(0.2) ? random.between(31.0, 36.0)
                                : random.between(12.0, 27.0);
    case repeated_cranking:
      return random.chance(0.3) ? -3.0 - random.below(3)
                                : 3.0 + random.below(3);
    case service_due:
      return random.between(2.0, 60.0);
    case hours_mismatch:
      return signed_size(25.0, 45.0, random);
    case data_gap:
      return random.between_log(110.0, 540.0);
    case clock_step:
      return random.chance(0.5) ? random.between(900.0, 7200.0)
                                : random.between(-7200.0, -120.0);
    case sensor_spike:
      return random.between_log(0.3, 3.0);
    case sensor_dropout:
      return random.between(8.0, 45.0);
    case alarm_chatter:
      return random.between(4.0, 6.0);
    case alarm_flood:
      return random.between(15.0, 24.0);
    case alarm_standing:
      return random.between(26.0, 28.0);
    default:
      return 1.0;
  }
}

}  // namespace telltale::host::sim
