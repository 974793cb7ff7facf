// A table of stages: when each ends and what comes next.
#include "simulate/controller.hpp"

#include <cmath>

namespace telltale::host::sim {
namespace {

constexpr double kDisengage = 0.28;  // the starter lets go
constexpr double kAtSpeed = 0.97;
constexpr double kSettleS = 2.0;   // at speed before warm-up counts
constexpr double kStalled = 0.35;  // dying engine: the controller gives up

}  // namespace

Controller::Controller(const std::vector<RunPlan>& runs,
                       const ControllerSpec& spec)
    : runs_(&runs), spec_(spec) {}

const RunPlan* Controller::plan() const {
  return run_ < 0 ? nullptr : &(*runs_)[static_cast<std::size_t>(run_)];
}

void Controller::enter(Stage stage, double t) {
  loaded_coast_ = stage == Stage::coast && stage_ == Stage::loaded;
  stage_ = stage;
  entered_ = t;
}

void Controller::next_run(double t) {
  const auto next = static_cast<std::size_t>(run_) + 1;
  if (next >= runs_->size() || t < (*runs_)[next].start_s) return;
  ++run_;
  cranks_ = 0;
  fired_ = started_ = tripped_ = commanded_stop_ = false;
  enter(Stage::preheat, t);
}

void Controller::step(double t, const ControllerInput& in) {
  if (stage_ == Stage::rest) {
    next_run(t);
    return;
  }
  const RunPlan& plan = *this->plan();
  const double since = t - entered_;
  if (fired_ && stage_ != Stage::coast) {
    if (in.trip) {
      tripped_ = true;
      enter(Stage::coast, t);
      return;
    }
    if (started_ && in.speed < kStalled) {  // died of itself
      enter(Stage::coast, t);
      return;
    }
  }
  switch (stage_) {
    case Stage::preheat: {
      const double wait =
          plan.preheat_s < 0.0 ? spec_.preheat_s : plan.preheat_s;
      if (since < wait) break;
      ++cranks_;
      enter(Stage::crank, t);
      break;
    }
    case Stage::crank: {
      const bool good = !plan.never_starts && cranks_ > plan.failed_cranks;
      const double needs = plan.crank_s > 0.0 ? plan.crank_s : in.fire_s;
      if (good && since >= needs && !in.dead) fired_ = true;
      if (fired_ && in.speed > kDisengage) {
        running_since_ = t;
        enter(Stage::run_up, t);
      } else if (!fired_ &&
                 since >= (good ? needs + 1.0 : plan.failed_crank_s)) {
        enter(Stage::crank_rest, t);
      }
      break;
    }
    case Stage::crank_rest: {
      if (since < plan.crank_rest_s) break;
      const int wanted = plan.failed_cranks + (plan.never_starts ? 0 : 1);
      if (cranks_ >= wanted) {
        enter(Stage::rest, t);
      } else {
        ++cranks_;
        enter(Stage::crank, t);
      }
      break;
    }
    case Stage::run_up:
      if (in.speed < kAtSpeed) {
        entered_ = t;
        if (t - running_since_ > 40.0) enter(Stage::coast, t);
      } else if (since > kSettleS) {
        started_ = true;
        enter(Stage::warm_up, t);
      }
      break;
    case Stage::warm_up:
      if (since >= plan.warm_up_s) enter(Stage::loaded, t);
      break;
    case Stage::loaded:
      if (since < plan.loaded_s) break;
      if (plan.stop_load_pct > 0.0) {
        commanded_stop_ = true;
        enter(Stage::coast, t);
      } else {
        enter(Stage::cool_down, t);
      }
      break;
    case Stage::cool_down:
      if (since < plan.cool_down_s) break;
      commanded_stop_ = true;
      enter(Stage::coast, t);
      break;
    case Stage::coast:
      if (in.speed <= 0.0) enter(Stage::rest, t);
      break;
    case Stage::rest:
      break;
  }
}

bool Controller::fuel() const {
  return fired_ && stage_ != Stage::coast && stage_ != Stage::rest;
}

bool Controller::breaker() const {
  // Small sets have no breaker that opens by itself: whatever stops the engine
  // leaves the load on until the volts are gone.
  return stage_ == Stage::loaded || (stage_ == Stage::coast && loaded_coast_);
}

double Controller::next_change() const {
  const RunPlan* plan = this->plan();
  switch (stage_) {
    case Stage::rest: {
      const auto next = static_cast<std::size_t>(run_) + 1;
      return next < runs_->size() ? (*runs_)[next].start_s : INFINITY;
    }
    case Stage::warm_up:
      return entered_ + plan->warm_up_s;
    case Stage::loaded:
      return entered_ + plan->loaded_s;
    case Stage::cool_down:
      return entered_ + plan->cool_down_s;
    default:
      return entered_;  // short stages are stepped finely anyway
  }
}

EngineState Controller::word() const {
  switch (stage_) {
    case Stage::rest:
      return tripped_ ? EngineState::fault : EngineState::stopped;
    case Stage::preheat:
      return EngineState::preheat;
    case Stage::crank:
      return EngineState::cranking;
    case Stage::crank_rest:
    case Stage::run_up:
      return EngineState::starting;
    case Stage::warm_up:
      return EngineState::running;
    case Stage::loaded:
      return EngineState::loaded;
    case Stage::cool_down:
      return EngineState::cool_down;
    case Stage::coast:
      return commanded_stop_ ? EngineState::stopping : EngineState::fault;
  }
  return EngineState::unknown;
}

}  // namespace telltale::host::sim
