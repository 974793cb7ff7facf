// Engine, governor and rotor: from fuel and load to speed.
#pragma once

#include "simulate/ailments.hpp"
#include "simulate/set.hpp"

namespace telltale::host::sim {

/// What acts on the shaft during one step. Torques over rated torque, speeds
/// over nominal speed.
struct DriveInput {
  bool fuel = false;
  double load_torque = 0.0;    // of the alternator
  double setting_shift = 0.0;  // on the governor's setting, of nominal speed
  double crank_speed = 0.0;    // the starter turns it so fast; 0: disengaged
  double torque_limit = 9.0;   // what the fuel that arrives can give
  const Ailments* ailments = nullptr;
};

class Drive {
 public:
  explicit Drive(const SetSpec& set);

  /// Moves on by `dt` seconds, at most 0.03.
  void step(double dt, const DriveInput& in);
  /// Moves on by any `dt` where nothing sudden happens: straight to the
  /// governor's steady line.
  void settle(double dt, const DriveInput& in);
  /// Whether the load is within what the engine can carry at that speed.
  [[nodiscard]] bool can_carry(double load_torque) const;

  /// Speed over nominal that it settles at under such a torque.
  [[nodiscard]] double steady_speed(const DriveInput& in, double torque) const;

  /// Speed over nominal speed.
  [[nodiscard]] double speed() const { return speed_; }
  /// Net torque over rated torque.
  [[nodiscard]] double torque() const { return torque_; }
  /// Governor droop in force, of nominal speed from no load to rated load.
  [[nodiscard]] double droop(const Ailments& ailments) const;

 private:
  [[nodiscard]] double setting(const DriveInput& in) const;
  double governed(double dt, const DriveInput& in, double most);

  const SetSpec* set_;
  double speed_ = 0.0;
  double felt_ = 0.0;  // speed as the governor feels it
  double torque_ = 0.0;
  double reset_ = 0.0;  // the part of the torque worked off slowly
  bool at_speed_ = false;
};

}  // namespace telltale::host::sim
