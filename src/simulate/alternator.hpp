// Alternator: from speed and demand to volts, amps, power and shaft torque.
#pragma once

#include <array>

#include "simulate/ailments.hpp"
#include "simulate/load.hpp"
#include "simulate/set.hpp"

namespace telltale::host::sim {

class Alternator {
 public:
  explicit Alternator(const SetSpec& set);

  /// Moves on by `dt`. `speed` is over nominal; `demand` what is connected.
  void step(double dt, double speed, const Demand& demand, const Ailments& a);
  /// Frequency in Hz at that speed; an asynchronous machine loses its slip.
  [[nodiscard]] double frequency(double speed) const;

  /// Leg to neutral, V.
  [[nodiscard]] double volts(int leg) const { return volts_[leg_index(leg)]; }
  /// Mean of the pairs of legs, V; 0 for a single leg.
  [[nodiscard]] double line_volts() const;
  [[nodiscard]] double amps(int leg) const { return amps_[leg_index(leg)]; }
  [[nodiscard]] double power_kw() const { return power_kw_; }
  [[nodiscard]] double power_factor() const { return power_factor_; }
  /// Torque on the shaft over rated torque.
  [[nodiscard]] double torque() const { return torque_; }
  /// Mean square of the leg currents over the rated one.
  [[nodiscard]] double heating() const { return heating_; }

  [[nodiscard]] bool boost_in() const { return boost_left_s_ > 0.0 || held_; }
  /// Share of nominal speed that the boost adds to the governor's setting.
  [[nodiscard]] double speed_boost() const;
  /// The boost relay stays in from the last stop until it is cleared.
  void hold_boost(bool held) { held_ = held; }
  [[nodiscard]] bool boost_held() const { return held_; }

 private:
  static std::size_t leg_index(int leg) {
    return static_cast<std::size_t>(leg - 1);
  }
  double target(double speed, double load, const Ailments& a) const;
  void run_boost(double dt, double speed);

  const SetSpec* set_;
  std::array<double, 3> volts_ = {};
  std::array<double, 3> amps_ = {};
  double level_ = 0.0;         // volts over nominal, slow part
  double settled_amps_ = 0.0;  // mean current over rated, followed slowly
  double power_kw_ = 0.0;
  double power_factor_ = 1.0;
  double torque_ = 0.0;
  double heating_ = 0.0;
  double boost_left_s_ = 0.0;
  bool armed_ = false;
  double usual_ = 0.0;  // volts over nominal, followed very slowly
  bool held_ = false;
};

}  // namespace telltale::host::sim
