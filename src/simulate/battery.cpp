// A source with resistance that relaxes to its rest volts, or to the charge
// regulator's set-point.
#include "simulate/battery.hpp"

#include <algorithm>

#include "simulate/portable_math.hpp"

namespace telltale::host::sim {
namespace {

constexpr double kSurfaceS = 160.0;  // surface charge fades so fast
constexpr double kFloatS = 25.0;     // the step to float
constexpr double kStarvedS = 200.0;  // fall when the charge gives out
constexpr double kInrushS = 0.07;    // of the starter's first current
constexpr double kColdPerK = 0.012;  // resistance below 25 degC
constexpr double kConsumersA = 4.0;  // controller, pump, solenoid

}  // namespace

Battery::Battery(const SetSpec& set)
    : spec_(&set.battery),
      blocks_(set.rating.battery_v / 12.0),
      level_(set.battery.rest_v),
      volts_(level_ * blocks_),
      sound_(level_) {}

void Battery::step(double dt, const BatteryInput& in, const Ailments& a) {
  const double rest = a.rest_v > 0.0 ? a.rest_v : spec_->rest_v;
  const double cold = 1.0 + kColdPerK * std::max(25.0 - in.celsius, 0.0);
  const double ohm = spec_->resistance_mohm / 1000.0 * cold * a.resistance;
  double amps = 0.0;
  if (in.charging) {
    charged_s_ += dt;
    double target = spec_->charge_v;
    double tau = spec_->rise_s;
    if (spec_->float_v > 0.0 && charged_s_ > spec_->absorb_s) {
      target = spec_->float_v;
      if (level_ > target) tau = kFloatS;
    }
    target -= spec_->compensation_mv_k / 1000.0 * (in.celsius - 25.0);
    sound_ = lag(sound_, target, dt, tau);
    if (a.charge_v > 0.0) target = a.charge_v;
    target -= a.charge_fade_v;
    if (target < rest) tau = kStarvedS;
    level_ = lag(level_, target, dt, tau);
  } else {
    charged_s_ = 0.0;
    sound_ = level_;
    if (a.rest_v > 0.0 && in.crank_s == 0.0) {
      level_ =
          std::min(level_, rest);  // a weak battery keeps no surface charge
    }
    level_ = lag(level_, rest, dt, kSurfaceS);
    amps = kConsumersA;
  }
  if (in.preheat) amps += spec_->preheat_a;
  if (in.crank_s > 0.0) {
    // The stalled starter draws several times its running current at first.
    amps += spec_->crank_a * in.crank_load *
            (1.0 + 1.6 * exp_of(-in.crank_s / kInrushS));
  }
  volts_ = std::max(level_ - amps * ohm, 0.3 * 12.0) * blocks_;
}

}  // namespace telltale::host::sim
