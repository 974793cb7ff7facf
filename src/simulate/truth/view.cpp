// Plain definitions, applied to noise-free states.
#include "simulate/truth/view.hpp"

#include <algorithm>
#include <cmath>

#include "simulate/portable_math.hpp"

namespace telltale::host::sim {
namespace {

constexpr double kStepPct = 10.0;  // contract section 4: a load step
constexpr double kStepS = 3.0;
constexpr double kSettleS = 10.0;
constexpr double kSmoothS = 3.0;  // of frequency and volts: what "steady" means

}  // namespace

void RollingMean::add(double t, double dt, double value) {
  if (!bins_.empty() && bins_.back().dt + dt <= 1.0) {
    bins_.back().dt += dt;
    bins_.back().weighted += value * dt;
  } else {
    bins_.push_back({t, dt, value * dt});
  }
  sum_ += value * dt;
  time_ += dt;
  while (time_ - bins_.front().dt >= span_s_) {
    sum_ -= bins_.front().weighted;
    time_ -= bins_.front().dt;
    bins_.pop_front();
  }
}

double RollingMean::mean() const {
  return time_ >= span_s_ * 0.999 ? sum_ / time_ : std::nan("");
}

void RollingMean::clear() {
  bins_.clear();
  sum_ = time_ = 0.0;
}

View::View(const Scenario& scenario) : scenario_(&scenario) {}

bool View::running() const {
  return now_.phase == TruePhase::running_up || at_speed();
}

bool View::at_speed() const {
  return now_.phase == TruePhase::no_load || now_.phase == TruePhase::on_load ||
         now_.phase == TruePhase::cool_down;
}

bool View::steady() const {
  return at_speed() && at_speed_s_ > kSettleS && since_step_s_ > kSettleS;
}

double View::amps_pct(std::size_t leg) const {
  constexpr Channel kAmps[] = {Channel::current_l1, Channel::current_l2,
                               Channel::current_l3};
  return 100.0 * value(kAmps[leg]) / rating().leg_amps();
}

bool View::has(Channel channel) const { return !std::isnan(value(channel)); }

bool View::logged(Channel channel) const {
  return std::any_of(
      scenario_->sensors.begin(), scenario_->sensors.end(),
      [channel](const SensorSpec& s) { return s.channel == channel; });
}

void View::update(const Snapshot& now) {
  now_ = now;
  const double dt = now.dt;
  running_s_ = running() ? running_s_ + dt : 0.0;
  at_speed_s_ = at_speed() ? at_speed_s_ + dt : 0.0;

  past_.push_back({now.t, now.load_pct});
  double low = now.load_pct;
  double high = now.load_pct;
  while (now.t - past_.front().t > kStepS + 0.5) past_.pop_front();
  for (const Past& past : past_) {
    low = std::min(low, past.load_pct);
    high = std::max(high, past.load_pct);
  }
  since_step_s_ = high - low >= kStepPct ? 0.0 : since_step_s_ + dt;

  const double hertz =
      100.0 * (value(Channel::frequency) / rating().frequency_hz - 1.0);
  std::array<double, 4> volts = {};
  constexpr Channel kVolts[] = {Channel::voltage_l1, Channel::voltage_l2,
                                Channel::voltage_l3};
  for (std::size_t leg = 0; leg < legs(); ++leg) {
    volts[leg] = 100.0 * (value(kVolts[leg]) / rating().leg_volts() - 1.0);
  }
  if (legs() > 1) {
    volts[3] =
        100.0 * (value(Channel::voltage_line) / rating().voltage_v - 1.0);
  }
  const double battery = value(Channel::battery_voltage);
  if (!primed_ || at_speed_s_ < 3.0) {
    hertz_pct_ = hertz;
    volts_pct_ = volts;
  }
  if (!primed_) battery_ = battery;
  primed_ = true;
  hertz_pct_ = lag(hertz_pct_, hertz, dt, kSmoothS);
  for (std::size_t i = 0; i < volts.size(); ++i) {
    volts_pct_[i] = lag(volts_pct_[i], volts[i], dt, kSmoothS);
  }
  battery_ = lag(battery_, battery, dt, 20.0);
}

}  // namespace telltale::host::sim
