// Machine: all parts of the set in one, moved through time.
#pragma once

#include <memory>

#include "simulate/ailments.hpp"
#include "simulate/alarm_book.hpp"
#include "simulate/alternator.hpp"
#include "simulate/battery.hpp"
#include "simulate/controller.hpp"
#include "simulate/drive.hpp"
#include "simulate/fuel_supply.hpp"
#include "simulate/load.hpp"
#include "simulate/oil_circuit.hpp"
#include "simulate/random.hpp"
#include "simulate/scenario.hpp"
#include "simulate/thermal.hpp"

namespace telltale::host::sim {

/// Is shown every state that the machine goes through, at steps of 0.2 s or
/// less while something happens and 1 s while running steadily.
class Observer {
 public:
  virtual ~Observer() = default;
  virtual void see(const Snapshot& now) = 0;
};

class Machine {
 public:
  /// The scenario must outlive the machine and be prepared (see plan.hpp).
  explicit Machine(const Scenario& scenario);

  /// Moves on to `t` seconds of the scenario.
  void advance_to(double t, Observer* observer = nullptr);
  [[nodiscard]] const Snapshot& now() const { return now_; }
  /// While at rest: when the next run begins; else the present.
  [[nodiscard]] double idle_until() const;

 private:
  [[nodiscard]] double step_length(double left) const;
  void step_fast(double dt);
  void step_slow();
  void follow_stage();
  void take_snapshot(double dt);
  [[nodiscard]] bool lively() const;
  [[nodiscard]] double window_time() const;
  [[nodiscard]] double crank_speed() const;
  [[nodiscard]] double oil_thickness() const;
  [[nodiscard]] double warm_shift() const;

  const Scenario* scenario_;
  Controller controller_;
  Drive drive_;
  Alternator alternator_;
  Thermal thermal_;
  OilCircuit oil_;
  Battery battery_;
  FuelSupply fuel_supply_;
  AlarmBook alarms_;
  std::unique_ptr<LoadBank> bank_;
  Random rough_random_;
  Random slow_random_;
  Wander rough_;
  Wander load_wander_;
  Wander flutter_;
  Wander pace_;
  Wander sea_;
  Ailments ailments_;
  Snapshot now_;
  Demand demand_;
  Stage last_stage_ = Stage::rest;
  double t_ = 0.0;
  double slow_dt_ = 0.0;
  double lively_until_ = -1.0;
  double load_since_ = 0.0;
  double fire_luck_ = 1.0;
  double swing_turn_ = 0.0;
  double shown_speed_ = 0.0;
  double recent_load_pct_ = 0.0;
  double hertz_low_ = 1e9;  // since the last snapshot
  double hertz_high_ = 0.0;
  double hours_;
  double fuel_l_;
  double fuel_rate_ = 0.0;
  double starts_;
  bool start_failed_ = false;
};

}  // namespace telltale::host::sim
