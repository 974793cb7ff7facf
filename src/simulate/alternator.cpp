// Volts follow the regulator with a lag and dip by a reactance on sudden
// current; unequal legs shift their volts by an impedance.
#include "simulate/alternator.hpp"

#include <algorithm>
#include <cmath>

#include "simulate/portable_math.hpp"

namespace telltale::host::sim {
namespace {

constexpr double kKneeSpeed = 0.93;     // below it volts fall with speed
constexpr double kExcitedSpeed = 0.40;  // below it no excitation builds up
constexpr double kResidual = 0.02;      // volts over nominal, unexcited
// Share of the torque at rated load that is not extra loss.
constexpr double kLoadShare = 0.94;
constexpr double kThrottleUp = 0.065;  // over-excitation without a boost stage

}  // namespace

Alternator::Alternator(const SetSpec& set) : set_(&set) {}

// Steady volts over nominal. A regulator holds them; a capacitor-excited
// machine lets them rise with speed and sag with load.
double Alternator::target(double speed, double load, const Ailments& a) const {
  const AlternatorSpec& spec = set_->alternator;
  if (speed < kExcitedSpeed) return kResidual * speed;
  double volts =
      1.0 +
      (spec.offset_pct - spec.regulation_pct * load + a.volts_pct) / 100.0;
  if (set_->rating.asynchronous) {
    volts *= 1.0 + 1.4 * (speed - 1.0 - set_->governor.no_load_pct / 100.0);
  }
  if (boost_in()) {
    volts +=
        (spec.boost.fitted ? spec.boost.volts_pct : a.boost_held_pct) / 100.0;
  }
  return volts * std::min(speed / kKneeSpeed, 1.0);
}

void Alternator::run_boost(double dt, double speed) {
  const BoostSpec& boost = set_->alternator.boost;
  if (!boost.fitted) return;
  boost_left_s_ = std::max(boost_left_s_ - dt, 0.0);
  const double mean = volts_[0] / set_->rating.leg_volts();
  if (speed < 0.8) armed_ = false;
  // A sudden dip calls it, not volts that are low for long.
  usual_ = lag(usual_, mean, dt, 8.0);
  if (speed > 0.95 && mean > 0.97 * usual_ && usual_ > 0.8) armed_ = true;
  if (armed_ && mean < usual_ * (1.0 - boost.dip_pct / 100.0)) {
    boost_left_s_ = boost.hold_s;
  }
}

double Alternator::speed_boost() const {
  if (!boost_in()) return 0.0;
  const BoostSpec& boost = set_->alternator.boost;
  return boost.fitted ? boost.speed_pct / 100.0 : kThrottleUp;
}

void Alternator::step(double dt, double speed, const Demand& demand,
                      const Ailments& a) {
  const Rating& rating = set_->rating;
  const AlternatorSpec& spec = set_->alternator;
  const auto legs = static_cast<std::size_t>(rating.legs);
  const double nominal = rating.leg_volts();

  // What the connected load takes at the volts it has now.
  const double leg_kw = rating.power_kw / rating.legs;
  std::array<double, 3> current = {};  // over rated
  double kw_sum = 0.0;
  double kva_sum = 0.0;
  double current_sum = 0.0;
  double squares = 0.0;
  for (std::size_t leg = 0; leg < legs; ++leg) {
    const double v = volts_[leg] / nominal;
    if (v > 0.05 && (demand.kw[leg] > 0.0 || demand.kvar[leg] > 0.0)) {
      // Between constant current and constant resistance.
      const double kw = demand.kw[leg] * v * (0.7 + 0.3 * v);
      const double kvar = demand.kvar[leg] * v * v;
      const double kva = std::sqrt(kw * kw + kvar * kvar);
      current[leg] = kva / v / leg_kw * rating.power_factor;
      kw_sum += kw;
      kva_sum += kva;
    }
    amps_[leg] = current[leg] * rating.leg_amps();
    current_sum += current[leg];
    squares += current[leg] * current[leg];
  }
  const double mean_current = current_sum / static_cast<double>(legs);
  power_kw_ = kw_sum;
  power_factor_ = kva_sum > 0.0 ? kw_sum / kva_sum : 1.0;
  heating_ = squares / static_cast<double>(legs);
  const double load = kw_sum / rating.power_kw;
  // Losses grow with load; those without load are in the engine's friction.
  torque_ = speed > 0.05
                ? load * (kLoadShare + (1.0 - kLoadShare) * load) / speed
                : 0.0;

  run_boost(dt, speed);
  level_ = lag(level_, target(speed, mean_current, a), dt, spec.recovery_s);
  settled_amps_ = lag(settled_amps_, mean_current, dt, spec.recovery_s);
  const double dip = spec.dip_reactance * (mean_current - settled_amps_);
  for (std::size_t leg = 0; leg < legs; ++leg) {
    double uneven = spec.leg_offset_pct[leg] / 100.0;
    uneven -= spec.leg_impedance * (current[leg] - mean_current);
    if (legs > 1) {
      // The first leg down, the last up by as much; a middle one stays.
      const double sign = leg == 0 ? -1.0 : (leg + 1 == legs ? 1.0 : 0.0);
      uneven += sign * a.unbalance_pct / 100.0;
    }
    volts_[leg] = std::max((level_ - dip) * (1.0 + uneven), 0.0) * nominal;
  }
}

double Alternator::frequency(double speed) const {
  const Rating& rating = set_->rating;
  const double turning = speed * rating.frequency_hz;
  if (!rating.asynchronous || speed < kExcitedSpeed) return turning;
  const double slip =
      set_->alternator.slip_pct / 100.0 * power_kw_ / rating.power_kw;
  return turning * (1.0 - slip);
}

double Alternator::line_volts() const {
  if (set_->rating.legs == 1) return 0.0;
  if (set_->rating.legs == 2) return volts_[0] + volts_[1];
  const double mean = (volts_[0] + volts_[1] + volts_[2]) / 3.0;
  return mean * 1.7320508075688772;
}

}  // namespace telltale::host::sim
