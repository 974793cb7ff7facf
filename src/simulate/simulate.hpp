// Runs a scenario and gives the rows of its log one by one.
#pragma once

#include <functional>

#include "simulate/machine.hpp"
#include "simulate/scenario.hpp"
#include "simulate/sensors.hpp"

namespace telltale::host::sim {

/// Pulls rows out of a scenario in bounded memory.
class Simulator {
 public:
  /// Works the faults of use into the plan first; see plan.hpp.
  explicit Simulator(Scenario scenario);
  Simulator(const Simulator&) = delete;
  Simulator& operator=(const Simulator&) = delete;

  /// The next row of the log; false at its end.
  bool next(Sample& sample);
  /// Shown every state of the machine from here on; may be null.
  void watch(Observer* observer) { observer_ = observer; }

  /// As run, that is prepared.
  [[nodiscard]] const Scenario& scenario() const { return scenario_; }
  /// The true state at the row given last.
  [[nodiscard]] const Snapshot& state() const { return machine_.now(); }
  [[nodiscard]] const SensorBank& sensors() const { return sensors_; }

 private:
  [[nodiscard]] bool silent(double t) const;
  [[nodiscard]] bool far_from_run(double t) const;
  [[nodiscard]] TimeMs stamp(double t) const;

  Scenario scenario_;
  Machine machine_;
  SensorBank sensors_;
  Observer* observer_ = nullptr;
  double next_s_;
  double rest_since_ = -1e12;
};

/// Runs the whole scenario into `sink`.
void simulate(const Scenario& scenario,
              const std::function<void(const Sample&)>& sink);

/// What the logger's clock is off at `t` seconds of the scenario, in ms.
std::int64_t clock_error_ms(const Scenario& scenario, double t);

}  // namespace telltale::host::sim
