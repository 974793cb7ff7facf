// Judges one run by the contract's limits, from the true state alone.
#pragma once

#include <memory>
#include <vector>

#include "simulate/truth/truth.hpp"
#include "simulate/truth/view.hpp"

namespace telltale::host::sim {

/// One question of the contract, asked of one run.
class Question {
 public:
  virtual ~Question() = default;
  virtual void see(const View& view) = 0;
  /// At the end of the run; `run` holds phases, attempts and steps.
  virtual void answer(const View& view, const TrueRun& run,
                      std::vector<Verdict>& out) = 0;
};

using Questions = std::vector<std::unique_ptr<Question>>;

// Each adds its questions for a run that begins now.
void add_limit_questions(const Scenario& scenario, Questions& out);
void add_load_questions(const Scenario& scenario, Questions& out);
void add_trend_questions(const Scenario& scenario, Questions& out);
void add_start_questions(const Scenario& scenario, Questions& out);
void add_stop_questions(const Scenario& scenario, Questions& out);
void add_speed_questions(const Scenario& scenario, Questions& out);

}  // namespace telltale::host::sim
