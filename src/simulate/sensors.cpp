// Lag, bias, noise and rounding of each sensor, then its faults.
#include "simulate/sensors.hpp"

#include <algorithm>
#include <cmath>

#include "simulate/portable_math.hpp"

namespace telltale::host::sim {
namespace {

// Readings that the logger never gives below zero.
bool counts_from_zero(Channel channel) {
  const ChannelInfo& info = info_of(channel);
  return info.unit != Unit::degC && channel != Channel::power_factor;
}

std::int64_t to_steps(double value) { return std::llround(value); }

}  // namespace

double step_of(const SensorSpec& spec) {
  return spec.resolution * conversion(spec.unit, info_of(spec.channel).unit)
                               .value_or(Conversion{})
                               .scale;
}

bool never_rests(const SensorSpec& spec) {
  return spec.noise >= 0.7 * step_of(spec);
}

SensorBank::SensorBank(const Scenario& scenario)
    : tallies_(scenario.sensors.size()),
      noise_(scenario.seed, "sensor noise"),
      trouble_(scenario.seed, "sensor trouble") {
  for (const SensorSpec& spec : scenario.sensors) {
    const ChannelInfo& info = info_of(spec.channel);
    const Conversion unit =
        conversion(spec.unit, info.unit).value_or(Conversion{});
    Sensor sensor{};
    sensor.spec = spec;
    sensor.scale = 1.0 / (unit.scale * spec.resolution);
    sensor.offset = unit.offset;
    // A spike must stand out from what the channel itself can do.
    sensor.spike = 1.6 * info.jump * std::abs(sensor.scale);
    // An open or shorted sender lies beyond the physically possible.
    const double broken = static_cast<double>(info.high) +
                          0.2 * (static_cast<double>(info.high) - info.low);
    sensor.broken = to_steps((broken - unit.offset) * sensor.scale);
    sensor.next_s = -1e12;
    sensors_.push_back(sensor);
  }
  for (const Fault& fault : scenario.faults) {
    using enum FaultKind;
    if (fault.kind != sensor_frozen && fault.kind != sensor_range &&
        fault.kind != sensor_spike && fault.kind != sensor_dropout) {
      continue;
    }
    for (std::size_t i = 0; i < sensors_.size(); ++i) {
      if (sensors_[i].spec.channel == fault.target()) {
        faults_.push_back({&fault, i});
      }
    }
  }
}

// Returns whether there is a reading at all.
bool SensorBank::spoil(Sensor& sensor, const SensorFault& bad, double t,
                       std::int64_t& steps, SensorTally& tally) {
  const Fault& fault = *bad.fault;
  if (t < fault.at_s || t >= fault.until_s) return true;
  switch (fault.kind) {
    case FaultKind::sensor_frozen:
      steps = sensor.held;
      return true;
    case FaultKind::sensor_range:
      steps = sensor.broken;
      return true;
    case FaultKind::sensor_spike:
      if (trouble_.chance(fault.full_size() / 100.0)) {
        const double size = sensor.spike * trouble_.between(1.0, 1.8);
        const bool down =
            trouble_.chance(0.5) && static_cast<double>(steps) > size;
        steps += to_steps(down ? -size : size);
        ++tally.spikes;
      }
      return true;
    case FaultKind::sensor_dropout:
      // Bursts of three rows in the mean.
      if (sensor.missing_left == 0 &&
          trouble_.chance(fault.full_size() / 100.0 / 3.0)) {
        sensor.missing_left =
            1 + static_cast<int>(std::lround(trouble_.waiting(2.0)));
      }
      if (sensor.missing_left == 0) return true;
      --sensor.missing_left;
      return false;
    default:
      return true;
  }
}

void SensorBank::read(const Snapshot& now, Sample& sample) {
  const double dt = std::max(now.t - last_t_, 0.0);
  last_t_ = now.t;
  const bool running =
      now.phase == TruePhase::running_up || now.phase == TruePhase::no_load ||
      now.phase == TruePhase::on_load || now.phase == TruePhase::cool_down;
  sample.present = 0;
  for (std::size_t i = 0; i < sensors_.size(); ++i) {
    Sensor& sensor = sensors_[i];
    const SensorSpec& spec = sensor.spec;
    double truth = value_of(now, spec.channel);
    // The number of draws does not depend on what is drawn, so that a fault
    // in one channel leaves all others as they were.
    const double noise = spec.noise > 0.0 ? spec.noise * noise_.normal() : 0.0;
    const bool lost =
        spec.dropout_pct > 0.0 && noise_.chance(spec.dropout_pct / 100.0);
    if (std::isnan(truth)) continue;
    if (spec.channel == Channel::engine_speed) {
      truth *= 1.0 + now.rpm_error_pct / 100.0;
    }
    sensor.lagged = sensor.primed && spec.lag_s > 0.0
                        ? lag(sensor.lagged, truth, dt, spec.lag_s)
                        : truth;
    sensor.primed = true;
    std::int64_t steps = sensor.held;
    if (spec.period_s <= 0.0 || now.t >= sensor.next_s) {
      sensor.next_s = now.t + spec.period_s - 1e-6;
      // An engine at rest gives no noise on what rotation makes.
      const bool quiet = truth == 0.0 && counts_from_zero(spec.channel);
      double value = sensor.lagged;
      if (!quiet) {
        value += noise + spec.bias + spec.drift_per_h * now.t / 3600.0;
      }
      if (counts_from_zero(spec.channel)) value = std::max(value, 0.0);
      steps = to_steps((value - sensor.offset) * sensor.scale);
    }
    bool there = !lost;
    std::int64_t shown = steps;
    for (const SensorFault& bad : faults_) {
      if (bad.column != i) continue;
      if (!spoil(sensor, bad, now.t, shown, tallies_[i])) there = false;
      if (bad.fault->kind == FaultKind::sensor_frozen) steps = shown;
    }
    sensor.held = steps;
    if (running) {
      ++tallies_[i].rows;
      if (!there) ++tallies_[i].missing;
    }
    if (!there) continue;
    ++tallies_[i].all;
    sample.steps[i] = shown;
    sample.present |= ChannelMask{1} << i;
  }
}

}  // namespace telltale::host::sim
