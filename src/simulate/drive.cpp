// Equation of motion of the shaft, and a proportional governor with reset.
#include "simulate/drive.hpp"

#include <algorithm>

#include "simulate/portable_math.hpp"

namespace telltale::host::sim {
namespace {

constexpr double kFeelS = 0.04;  // flyweights or pick-up
constexpr double kStopS = 0.10;  // rack to zero and the last charge burnt
constexpr double kCompressionSpeed = 0.09;  // below it compression stops it

}  // namespace

Drive::Drive(const SetSpec& set) : set_(&set) {}

double Drive::droop(const Ailments& ailments) const {
  const double pct =
      ailments.droop_pct >= 0.0 ? ailments.droop_pct : set_->governor.droop_pct;
  return pct / 100.0;
}

double Drive::setting(const DriveInput& in) const {
  const GovernorSpec& spec = set_->governor;
  double no_load = spec.no_load_pct;
  // Too much droop is set about half load: high without load, low with it.
  if (in.ailments->droop_pct >= 0.0) {
    no_load += 0.5 * (in.ailments->droop_pct - spec.droop_pct);
  }
  no_load += in.ailments->speed_pct + in.ailments->creep_pct;
  return 1.0 + no_load / 100.0 + in.setting_shift;
}

// Torque asked for: proportional to the error of speed against the droop line,
// plus a part that works the error off. See any text on isochronous and droop
// governors with temporary droop.
double Drive::governed(double dt, const DriveInput& in, double most) {
  const GovernorSpec& spec = set_->governor;
  const double slow = in.ailments->slowness;
  const double gain = 100.0 / spec.transient_droop_pct / (0.8 + 0.2 * slow);
  const double error = setting(in) - felt_ - droop(*in.ailments) * torque_;
  if (!at_speed_) {
    if (felt_ < 0.97) return set_->engine.run_up_torque;
    at_speed_ = true;
    reset_ = 0.6 * set_->engine.run_up_torque;  // makes it overshoot
  }
  // Never more than the fuel can give: no wind-up.
  reset_ = std::clamp(reset_ + gain / (spec.reset_s * slow) * error * dt,
                      std::min(-0.1, most), most);
  return gain * error + reset_;
}

void Drive::step(double dt, const DriveInput& in) {
  const EngineSpec& engine = set_->engine;
  const double friction = engine.friction * (0.8 + 0.5 * speed_);
  felt_ = lag(felt_, speed_, dt, kFeelS);
  if (in.fuel) {
    const double most =
        std::max(std::min(engine.torque_reserve, in.torque_limit), -friction);
    const double given = std::clamp(governed(dt, in, most), -friction, most);
    torque_ = lag(torque_, given, dt,
                  set_->governor.lag_s * (0.7 + 0.3 * in.ailments->slowness));
  } else {
    torque_ = lag(torque_, -friction, dt, kStopS);
    at_speed_ = false;
  }
  double torque = torque_ - in.load_torque;
  if (speed_ > 0.0) torque -= in.ailments->drag;
  if (!in.fuel && speed_ < kCompressionSpeed && in.crank_speed == 0.0) {
    torque -= 0.35;
  }
  if (speed_ < in.crank_speed) {
    speed_ = lag(speed_, in.crank_speed, dt, 0.12);
    if (in.fuel) speed_ += torque_ / (2.0 * engine.inertia_s) * dt;
  } else {
    speed_ += torque / (2.0 * engine.inertia_s) * dt;
  }
  speed_ = std::max(speed_, 0.0);
}

void Drive::settle(double dt, const DriveInput& in) {
  const double torque = in.load_torque + in.ailments->drag;
  const double line = steady_speed(in, torque);
  if (!in.fuel) {
    speed_ = felt_ = torque_ = reset_ = 0.0;
    at_speed_ = false;
    return;
  }
  speed_ = lag(speed_, line, dt, 0.3);
  felt_ = speed_;
  torque_ = reset_ = torque;
}

double Drive::steady_speed(const DriveInput& in, double torque) const {
  return setting(in) - droop(*in.ailments) * torque;
}

bool Drive::can_carry(double load_torque) const {
  return load_torque < set_->engine.torque_reserve - 0.04;
}

}  // namespace telltale::host::sim
