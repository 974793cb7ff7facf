// The logger: when it takes a row, and what its clock says.
#include "simulate/simulate.hpp"

#include <algorithm>
#include <cmath>

#include "simulate/plan.hpp"

namespace telltale::host::sim {

std::int64_t clock_error_ms(const Scenario& scenario, double t) {
  std::int64_t error = 0;
  for (const Fault& fault : scenario.faults) {
    if (fault.kind == FaultKind::clock_step && t >= fault.at_s) {
      error += std::llround(fault.full_size() * 1000.0);
    }
  }
  return error;
}

Simulator::Simulator(Scenario scenario)
    : scenario_(prepared(std::move(scenario))),
      machine_(scenario_),
      sensors_(scenario_),
      next_s_(scenario_.log_from_s) {}

TimeMs Simulator::stamp(double t) const {
  return TimeMs{scenario_.clock.ms + std::llround(t * 1000.0) +
                clock_error_ms(scenario_, t)};
}

// Inside a data gap.
bool Simulator::silent(double t) const {
  return std::any_of(scenario_.faults.begin(), scenario_.faults.end(),
                     [t](const Fault& fault) {
                       return fault.kind == FaultKind::data_gap &&
                              t >= fault.at_s &&
                              t < fault.at_s + fault.full_size();
                     });
}

bool Simulator::far_from_run(double t) const {
  const double margin = scenario_.log_margin_s;
  return machine_.now().state == EngineState::stopped &&
         machine_.idle_until() - t > margin && t - rest_since_ > margin;
}

bool Simulator::next(Sample& sample) {
  while (next_s_ <= scenario_.log_to_s + 1e-9) {
    const double t = next_s_;
    machine_.advance_to(t, observer_);
    const Snapshot& now = machine_.now();
    const bool rest = now.phase == TruePhase::stopped;
    if (!rest) rest_since_ = t;
    const double step = rest && scenario_.rest_interval_s > 0.0
                            ? scenario_.rest_interval_s
                            : scenario_.interval_s;
    if (far_from_run(t)) {
      // On to the margin before the next run, on the grid of the interval.
      const double wake = machine_.idle_until() - scenario_.log_margin_s;
      if (!std::isfinite(wake)) return false;
      const double steps = std::ceil((wake - t) / step);
      next_s_ = t + std::max(steps, 1.0) * step;
      continue;
    }
    next_s_ = t + step;
    if (silent(t)) continue;
    sample.t = t;
    sample.stamp = stamp(t);
    sample.state = now.state;
    sample.alarms = now.alarms;
    sensors_.read(now, sample);
    return true;
  }
  return false;
}

void simulate(const Scenario& scenario,
              const std::function<void(const Sample&)>& sink) {
  Simulator simulator(scenario);
  Sample sample;
  while (simulator.next(sample)) sink(sample);
}

}  // namespace telltale::host::sim
