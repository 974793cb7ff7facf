// The start and stop sequence of the set's controller.
#pragma once

#include <cstdint>
#include <vector>

#include "simulate/scenario.hpp"

namespace telltale::host::sim {

enum class Stage : std::uint8_t {
  rest,
  preheat,
  crank,
  crank_rest,
  run_up,
  warm_up,
  loaded,
  cool_down,
  coast,
};

/// What the controller sees.
struct ControllerInput {
  double speed = 0.0;   // over nominal
  double fire_s = 1.4;  // cranking this engine needs now
  bool trip = false;    // a protection or the emergency stop asks for a stop
  bool dead = false;    // the engine gets no fuel whatever the controller says
};

class Controller {
 public:
  Controller(const std::vector<RunPlan>& runs, const ControllerSpec& spec);

  /// Moves to time `t`.
  void step(double t, const ControllerInput& in);

  [[nodiscard]] Stage stage() const { return stage_; }
  /// Since the stage began, s.
  [[nodiscard]] double since(double t) const { return t - entered_; }
  [[nodiscard]] double entered() const { return entered_; }
  /// The run in hand or the last one; -1 before the first.
  [[nodiscard]] int run() const { return run_; }
  [[nodiscard]] const RunPlan* plan() const;
  [[nodiscard]] bool preheating() const { return stage_ == Stage::preheat; }
  [[nodiscard]] bool starter() const { return stage_ == Stage::crank; }
  [[nodiscard]] bool fuel() const;
  [[nodiscard]] bool breaker() const;
  [[nodiscard]] int cranks() const { return cranks_; }
  [[nodiscard]] bool tripped() const { return tripped_; }
  /// The stop was asked for, not suffered.
  [[nodiscard]] bool commanded_stop() const { return commanded_stop_; }
  /// Turning by itself since, or a large negative time before.
  [[nodiscard]] double running_since() const { return running_since_; }
  /// When the plan next changes something by itself.
  [[nodiscard]] double next_change() const;
  [[nodiscard]] bool started() const { return started_; }
  [[nodiscard]] EngineState word() const;

 private:
  void enter(Stage stage, double t);
  void next_run(double t);

  const std::vector<RunPlan>* runs_;
  ControllerSpec spec_;
  Stage stage_ = Stage::rest;
  double entered_ = 0.0;
  double running_since_ = -1e12;
  int run_ = -1;
  int cranks_ = 0;
  bool fired_ = false;
  bool started_ = false;
  bool tripped_ = false;
  bool commanded_stop_ = false;
  bool loaded_coast_ = false;
};

}  // namespace telltale::host::sim
