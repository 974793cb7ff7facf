// Fuel supply that fails now and again: what makes a starved engine sag.
#pragma once

#include <cstdint>

#include "simulate/random.hpp"

namespace telltale::host::sim {

/// Air or a clogged filter: torque gives out for some seconds, then the fuel
/// comes back and the governor recovers the speed.
class FuelSupply {
 public:
  explicit FuelSupply(std::uint64_t seed) : random_(seed, "fuel supply") {}

  /// Moves on by `dt`; `sag_pct` is how deep a sag goes, 0 when the supply is
  /// sound. Returns the net torque over rated that the fuel can give.
  double step(double dt, double sag_pct, double load_torque, double inertia_s);
  /// In a sag: small steps are needed.
  [[nodiscard]] bool sagging() const { return stage_ != Stage::flowing; }
  [[nodiscard]] int sags() const { return sags_; }

 private:
  enum class Stage : std::uint8_t { flowing, falling, starved, recovering };

  Random random_;
  Stage stage_ = Stage::flowing;
  double left_s_ = 0.0;
  double depth_ = 0.0;
  int sags_ = 0;
  bool was_sound_ = true;
};

}  // namespace telltale::host::sim
