// Starting battery: rest, preheat, cranking, charging.
#pragma once

#include "simulate/ailments.hpp"
#include "simulate/set.hpp"

namespace telltale::host::sim {

struct BatteryInput {
  bool preheat = false;
  double crank_s = 0.0;     // since the starter engaged; 0: it is not
  double crank_load = 1.0;  // current over the warm, steady one
  bool charging = false;    // engine fast enough
  double celsius = 25.0;
};

class Battery {
 public:
  explicit Battery(const SetSpec& set);

  void step(double dt, const BatteryInput& in, const Ailments& ailments);
  /// At the terminals, V.
  [[nodiscard]] double volts() const { return volts_; }
  /// The same per 12 V.
  [[nodiscard]] double volts_per_12() const { return volts_ / blocks_; }
  /// What a sound charger would hold now, V; the rest volts without one.
  [[nodiscard]] double sound_volts() const { return sound_ * blocks_; }

 private:
  const BatterySpec* spec_;
  double blocks_;  // 12 V blocks in series
  double level_;   // per 12 V, without the drop over the resistance
  double volts_;
  double sound_;  // per 12 V
  double charged_s_ = 0.0;
};

}  // namespace telltale::host::sim
