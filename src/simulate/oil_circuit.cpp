// Pump flow divides into bearings (laminar, as p / eta) and jets (as sqrt p);
// what is left over above its setting goes through the relief valve.
#include "simulate/oil_circuit.hpp"

#include <algorithm>
#include <cmath>

#include "simulate/portable_math.hpp"

namespace telltale::host::sim {
namespace {

// Vogel's third constant for mineral multigrades lies about here.
constexpr double kVogelC = 95.0;
constexpr double kHotC = 95.0;         // where hot_kpa holds
constexpr double kReliefSlope = 0.06;  // of the excess, above the setting
constexpr double kDrainS = 2400.0;     // at rest, until it has run dry

}  // namespace

Viscosity::Viscosity(double at_40, double at_100)
    : b_(log_of(at_40 / at_100) /
         (1.0 / (40.0 + kVogelC) - 1.0 / (100.0 + kVogelC))) {
  a_ = at_100 * exp_of(-b_ / (100.0 + kVogelC));
}

double Viscosity::at(double celsius) const {
  return a_ * exp_of(b_ / (std::max(celsius, -40.0) + kVogelC));
}

OilCircuit::OilCircuit(const OilSpec& spec)
    : spec_(&spec),
      viscosity_(spec.viscosity_40, spec.viscosity_100),
      hot_viscosity_(viscosity_.at(kHotC)) {}

// With s = sqrt(p / p_hot): bearing s^2 + jets s = flow, all over the hot
// engine's flow at nominal speed.
double OilCircuit::steady(double speed, double celsius, double pump,
                          double clearance) const {
  const double flow = speed * pump;
  if (flow <= 0.0) return 0.0;
  const double bearing = spec_->bearing_share * clearance * hot_viscosity_ /
                         viscosity_.at(celsius);
  const double jets = 1.0 - spec_->bearing_share;
  const double s =
      (std::sqrt(jets * jets + 4.0 * bearing * flow) - jets) / (2.0 * bearing);
  const double p = spec_->hot_kpa * s * s;
  if (p <= spec_->relief_kpa) return p;
  return spec_->relief_kpa +
         kReliefSlope * std::min(p - spec_->relief_kpa, spec_->relief_kpa);
}

double OilCircuit::clearance_for(double pressure_loss) const {
  const double s2 = 1.0 - pressure_loss;
  const double jets = 1.0 - spec_->bearing_share;
  return (1.0 - jets * std::sqrt(s2)) / (spec_->bearing_share * s2);
}

double OilCircuit::hot_pressure(const Ailments& a) const {
  if (a.pump_loss == 0.0 && a.pressure_loss == 0.0) return spec_->hot_kpa;
  const double clearance =
      a.pressure_loss > 0.0 ? clearance_for(a.pressure_loss) : 1.0;
  return steady(1.0, kHotC, 1.0 - a.pump_loss, clearance);
}

void OilCircuit::step(double dt, double speed, double celsius, double flutter,
                      const Ailments& a) {
  if (speed > 0.02) {
    turned_s_ = std::min(turned_s_ + dt, 1e6);
  } else {
    turned_s_ = std::max(std::min(turned_s_, kDrainS) - dt, 0.0);
  }
  const double fill_s = a.fill_s > 0.0 ? a.fill_s : spec_->fill_s;
  const double clearance =
      a.pressure_loss > 0.0 ? clearance_for(a.pressure_loss) : 1.0;
  double pressure = 0.0;
  loss_ = 0.0;
  if (turned_s_ >= fill_s) {
    const double sound = steady(speed, celsius);
    const bool ill = a.pump_loss > 0.0 || a.pressure_loss > 0.0;
    pressure =
        ill ? steady(speed, celsius, 1.0 - a.pump_loss, clearance) : sound;
    if (sound > 0.0) loss_ = 1.0 - pressure / sound;
    pressure *= std::max(1.0 + a.flutter * flutter, 0.05);
  }
  pressure_ = lag(pressure_, pressure, dt, spec_->sender_lag_s);
}

}  // namespace telltale::host::sim
