// Oil pressure from viscosity, pump, bearings, jets and relief valve.
#pragma once

#include "simulate/ailments.hpp"
#include "simulate/set.hpp"

namespace telltale::host::sim {

/// Viscosity in mm2/s at a temperature, by Vogel's equation
/// eta = a exp(b / (T + c)) fitted to the oil's values at 40 and 100 degC.
class Viscosity {
 public:
  Viscosity(double at_40, double at_100);
  [[nodiscard]] double at(double celsius) const;

 private:
  double a_;
  double b_;
};

class OilCircuit {
 public:
  explicit OilCircuit(const OilSpec& spec);

  /// Steady gauge pressure in kPa at a speed over nominal and a temperature.
  /// `pump` scales the flow, `clearance` the leakage of the bearings.
  [[nodiscard]] double steady(double speed, double celsius, double pump = 1.0,
                              double clearance = 1.0) const;
  /// Bearing leakage that costs such a share of the hot pressure.
  [[nodiscard]] double clearance_for(double pressure_loss) const;

  /// Moves on by `dt`. `flutter` is a value about 0 with sd 1.
  void step(double dt, double speed, double celsius, double flutter,
            const Ailments& ailments);
  /// What a gauge would show, kPa.
  [[nodiscard]] double pressure() const { return pressure_; }
  /// Steady pressure at 95 degC and nominal speed in its present state, kPa.
  [[nodiscard]] double hot_pressure(const Ailments& ailments) const;
  /// Share of the sound engine's pressure that is missing.
  [[nodiscard]] double loss() const { return loss_; }
  [[nodiscard]] double viscosity(double celsius) const {
    return viscosity_.at(celsius);
  }

 private:
  const OilSpec* spec_;
  Viscosity viscosity_;
  double hot_viscosity_;
  double pressure_ = 0.0;
  double turned_s_ = 0.0;  // turning, since the circuit last ran dry
  double loss_ = 0.0;
};

}  // namespace telltale::host::sim
