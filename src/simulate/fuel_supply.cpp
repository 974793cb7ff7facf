// Stages of a sag: the torque gives out, stays away, comes back.
#include "simulate/fuel_supply.hpp"

namespace telltale::host::sim {
namespace {

constexpr double kFallS = 1.6;
constexpr double kRecoverS = 6.0;
constexpr double kSplutter = 0.12;  // of rated torque, from step to step
constexpr double kNoLimit = 9.0;

}  // namespace

double FuelSupply::step(double dt, double sag_pct, double load_torque,
                        double inertia_s) {
  if (sag_pct <= 0.0) {
    was_sound_ = true;
    stage_ = Stage::flowing;
    return kNoLimit;
  }
  if (was_sound_) {
    was_sound_ = false;
    left_s_ = random_.between(8.0, 30.0);
  }
  left_s_ -= dt;
  switch (stage_) {
    case Stage::flowing:
      if (left_s_ > 0.0) return kNoLimit;
      stage_ = Stage::falling;
      left_s_ = kFallS;
      depth_ = sag_pct / 100.0 * random_.between(0.9, 1.25);
      break;
    case Stage::falling:
      if (left_s_ > 0.0) break;
      stage_ = Stage::starved;
      left_s_ = random_.between(2.0, 5.0);
      break;
    case Stage::starved:
      if (left_s_ > 0.0) break;
      stage_ = Stage::recovering;
      left_s_ = kRecoverS;
      ++sags_;
      break;
    case Stage::recovering:
      if (left_s_ > 0.0) return kNoLimit;
      stage_ = Stage::flowing;
      left_s_ = random_.between(15.0, 50.0);
      return kNoLimit;
  }
  // 2 H dw/dt = torque - load: this torque lets the speed fall by the depth.
  // Down there the engine splutters.
  const double deficit = stage_ == Stage::falling
                             ? 2.0 * inertia_s * depth_ / kFallS
                             : kSplutter * random_.normal();
  return load_torque - deficit;
}

}  // namespace telltale::host::sim
