// Questions about the data, the clock and the alarms.
#pragma once

#include <array>
#include <cmath>
#include <deque>
#include <vector>

#include "simulate/sensors.hpp"
#include "simulate/truth/truth.hpp"

namespace telltale::host::sim {

class DataBook {
 public:
  explicit DataBook(const Scenario& scenario);

  /// A new run is in hand.
  void begin_run(const Snapshot& now);
  void see(const Snapshot& now);
  void row(const Sample& sample, const Snapshot& now);
  /// What the run that ends has to say; `running_s` is its true running time.
  void end_run(const Snapshot& now, double running_s,
               std::vector<Verdict>& out);
  /// What the log as a whole has to say.
  void finish(const SensorBank& sensors, double first, double last,
              std::vector<Verdict>& out);

 private:
  void service(double last, std::vector<Verdict>& out) const;
  void clock(double first, double last, std::vector<Verdict>& out) const;
  void sensors(const SensorBank& bank, double first, double last,
               std::vector<Verdict>& out) const;
  void alarms(const Sample& sample);
  void follow_frozen(const Snapshot& now);

  struct AlarmState {
    std::deque<double> raises;
    double since = -1.0;
  };
  /// How long the true value has been away from where a sensor froze.
  struct Departure {
    double froze_at = std::nan("");
    double away_s = 0.0;  // on end
    double longest_s = 0.0;
  };

  const Scenario* scenario_;
  double last_row_ = -1.0;
  bool last_row_running_ = false;
  double gap_from_ = 0.0;
  double gap_s_ = 0.0;
  double meter_first_ = -1.0;
  double meter_last_ = 0.0;
  double hours_ = 0.0;
  AlarmMask standing_ = 0;
  std::array<AlarmState, 32> alarm_states_ = {};
  std::deque<double> raises_;
  std::vector<Verdict> alarm_verdicts_;
  bool flooding_ = false;
  std::array<Departure, kChannelCount> departures_ = {};  // by channel
};

}  // namespace telltale::host::sim
