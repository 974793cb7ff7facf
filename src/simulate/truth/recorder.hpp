// Recorder: watches a scenario run and puts the truth together.
#pragma once

#include <memory>
#include <optional>

#include "simulate/simulate.hpp"
#include "simulate/truth/data_book.hpp"
#include "simulate/truth/judge.hpp"
#include "simulate/truth/step_book.hpp"
#include "simulate/truth/truth.hpp"

namespace telltale::host::sim {

class Recorder : public Observer {
 public:
  /// The scenario must be the prepared one and outlive the recorder.
  explicit Recorder(const Scenario& scenario);

  void see(const Snapshot& now) override;
  /// A row of the log, after the states up to it.
  void row(const Sample& sample, const Snapshot& now);
  /// Closes the run in hand and answers what concerns the whole log.
  Truth finish(const SensorBank& sensors);

 private:
  void begin_run(const Snapshot& now);
  void end_run(double t, bool in_log);
  void follow_phase(const Snapshot& now);
  void count_cranks(const Snapshot& now);
  void keep_figures(const Snapshot& now);

  const Scenario* scenario_;
  Truth truth_;
  View view_;
  Questions questions_;
  StepBook steps_;
  DataBook data_;
  TrueRun run_;
  bool in_run_ = false;
  bool was_cranking_ = false;
  bool ran_ = false;          // turned by itself in the run in hand
  double crank_volts_ = 0.0;  // of the state before
  double light_s_ = 0.0;
  RollingMean charging_{300.0};
  double light_since_ = -1.0;  // a change of phase not yet believed
  int run_index_ = -1;
  double last_t_ = 0.0;
};

}  // namespace telltale::host::sim
