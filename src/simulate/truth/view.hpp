// View: the true state with what the contract's definitions make of it.
#pragma once

#include <array>
#include <deque>

#include "simulate/scenario.hpp"

namespace telltale::host::sim {

/// Mean over the last `span_s` seconds, in bins of a second.
class RollingMean {
 public:
  explicit RollingMean(double span_s) : span_s_(span_s) {}

  void add(double t, double dt, double value);
  /// Only when the span is filled; else NaN.
  [[nodiscard]] double mean() const;
  void clear();

 private:
  struct Bin {
    double t;
    double dt;
    double weighted;
  };
  double span_s_;
  double sum_ = 0.0;
  double time_ = 0.0;
  std::deque<Bin> bins_;
};

/// Updated with every snapshot of one run.
class View {
 public:
  explicit View(const Scenario& scenario);

  void update(const Snapshot& now);

  [[nodiscard]] const Snapshot& now() const { return now_; }
  [[nodiscard]] const Scenario& scenario() const { return *scenario_; }
  [[nodiscard]] const Rating& rating() const { return scenario_->set.rating; }
  [[nodiscard]] double value(Channel channel) const {
    return value_of(now_, channel);
  }
  /// Running-up, no-load, on-load or cool-down.
  [[nodiscard]] bool running() const;
  /// No-load, on-load or cool-down.
  [[nodiscard]] bool at_speed() const;
  /// At speed, and 10 s after the last load step and after run-up.
  [[nodiscard]] bool steady() const;
  [[nodiscard]] double running_s() const { return running_s_; }
  [[nodiscard]] double at_speed_s() const { return at_speed_s_; }
  [[nodiscard]] double since_step_s() const { return since_step_s_; }
  /// Frequency against nominal, %, over a few seconds.
  [[nodiscard]] double hertz_pct() const { return hertz_pct_; }
  /// Volts of a leg (0, 1, 2) or line to line (3) against nominal, %.
  [[nodiscard]] double volts_pct(std::size_t which) const {
    return volts_pct_[which];
  }
  [[nodiscard]] std::size_t legs() const {
    return static_cast<std::size_t>(rating().legs);
  }
  /// Amps of a leg over the rated ones, %.
  [[nodiscard]] double amps_pct(std::size_t leg) const;
  /// Battery volts over half a minute.
  [[nodiscard]] double battery() const { return battery_; }
  [[nodiscard]] bool has(Channel channel) const;
  [[nodiscard]] bool logged(Channel channel) const;

 private:
  const Scenario* scenario_;
  Snapshot now_;
  double running_s_ = 0.0;
  double at_speed_s_ = 0.0;
  double since_step_s_ = 1e9;
  double hertz_pct_ = 0.0;
  std::array<double, 4> volts_pct_ = {};
  double battery_ = 0.0;
  bool primed_ = false;
  struct Past {
    double t;
    double load_pct;
  };
  std::deque<Past> past_;
};

}  // namespace telltale::host::sim
