// Sensors and logger inputs: from the true state to what the log holds.
#pragma once

#include <array>
#include <cstdint>
#include <vector>

#include "simulate/random.hpp"
#include "simulate/scenario.hpp"

namespace telltale::host::sim {

/// Readings that a sensor fault spoilt, counted for the truth file.
struct SensorTally {
  std::uint64_t all = 0;      // readings
  std::uint64_t rows = 0;     // while running
  std::uint64_t missing = 0;  // while running
  std::uint64_t spikes = 0;   // in all
};

/// What the sensor resolves, in the channel's canonical unit.
double step_of(const SensorSpec& spec);

/// Whether noise alone keeps changing what is logged.
bool never_rests(const SensorSpec& spec);

class SensorBank {
 public:
  explicit SensorBank(const Scenario& scenario);

  /// Reads every sensor at `now` into `sample`.
  void read(const Snapshot& now, Sample& sample);
  /// By column of the scenario.
  [[nodiscard]] const std::vector<SensorTally>& tallies() const {
    return tallies_;
  }

 private:
  struct Sensor {
    SensorSpec spec;
    double scale;  // steps = (value - offset) * scale
    double offset;
    double spike;         // size of a wild reading, steps
    std::int64_t broken;  // what an open or shorted sender reads, steps
    double lagged = 0.0;
    double next_s = -1e12;
    std::int64_t held = 0;
    int missing_left = 0;
    bool primed = false;
  };
  struct SensorFault {
    const Fault* fault;
    std::size_t column;
  };

  bool spoil(Sensor& sensor, const SensorFault& bad, double t,
             std::int64_t& steps, SensorTally& tally);

  std::vector<Sensor> sensors_;
  std::vector<SensorFault> faults_;
  std::vector<SensorTally> tallies_;
  Random noise_;
  Random trouble_;
  double last_t_ = 0.0;
};

}  // namespace telltale::host::sim
