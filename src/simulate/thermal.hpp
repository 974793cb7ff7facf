// Temperatures: coolant, oil, exhaust, winding, engine room, raw water.
#pragma once

#include "simulate/ailments.hpp"
#include "simulate/scenario.hpp"
#include "simulate/set.hpp"

namespace telltale::host::sim {

struct ThermalInput {
  double speed = 0.0;   // over nominal
  double torque = 0.0;  // net of the engine over rated, 0 without fuel
  bool fuel = false;
  double heating = 0.0;  // mean square of leg current over rated
  bool pumping = false;  // raw-water pump turns
  double sea_k = 0.0;    // wandered off by
  double air_k = 0.0;
};

class Thermal {
 public:
  Thermal(const SetSpec& set, const Environment& environment);

  /// Moves on by `dt` seconds, any length up to a minute. `in.sea_k` and
  /// `in.air_k` are how far sea and air are off the environment's figures.
  void step(double dt, const ThermalInput& in, const Ailments& ailments);

  [[nodiscard]] double coolant() const { return coolant_; }
  [[nodiscard]] double oil() const { return oil_; }
  [[nodiscard]] double exhaust() const { return exhaust_; }
  [[nodiscard]] double winding() const { return winding_; }
  [[nodiscard]] double room() const { return room_; }
  [[nodiscard]] double sea() const { return sea_; }
  [[nodiscard]] double thermostat() const { return opening_; }

 private:
  void step_coolant(double dt, const ThermalInput& in, const Ailments& a,
                    double flow);
  void step_exhaust(double dt, const ThermalInput& in, const Ailments& a,
                    double flow);

  const SetSpec* set_;
  const Environment* environment_;
  double room_;
  double sea_;
  double coolant_;
  double oil_;
  double exhaust_;
  double winding_;
  double gas_;
  double opening_ = 0.0;
  double felt_ = 0.0;  // temperature of the thermostat's wax
};

}  // namespace telltale::host::sim
