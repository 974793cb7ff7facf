// What follows from the name plate.
#include "simulate/set.hpp"

namespace telltale::host::sim {

double Rating::leg_volts() const {
  if (legs == 3) return voltage_v / 1.7320508075688772;
  return legs == 2 ? voltage_v / 2.0 : voltage_v;
}

double Rating::leg_amps() const {
  return power_kw * 1000.0 / (legs * leg_volts() * power_factor);
}

}  // namespace telltale::host::sim
