// Keeps the load steps of a run and how the frequency answered.
#pragma once

#include <vector>

#include "simulate/truth/truth.hpp"
#include "simulate/truth/view.hpp"

namespace telltale::host::sim {

/// Limits of an ISO 8528-5 performance class for one load step, % of rated
/// frequency and seconds (deviations against rated frequency).
struct ClassLimits {
  double dip_pct;   // load on; a positive figure
  double rise_pct;  // load off
  double recovery_s;
  double tolerance_pct;  // full width of the band to come back into
};
ClassLimits class_limits(int performance_class);

class StepBook {
 public:
  explicit StepBook(const Rating& rating);

  void see(const Snapshot& now, bool at_speed);
  /// Ends what is still open.
  void close();
  [[nodiscard]] const std::vector<LoadStep>& steps() const { return steps_; }

 private:
  struct Point {
    double t;
    double low;
    double high;
    double mean;
  };
  void finish_response();

  Rating rating_;
  std::vector<LoadStep> steps_;
  std::vector<Point> response_;
  double last_pct_ = 0.0;
  double changed_at_ = -1e9;  // first change of the cluster in hand
  double before_pct_ = 0.0;
  double greatest_pct_ = 0.0;
  double greatest_at_ = 0.0;
  int changes_ = 0;  // in the cluster in hand
  bool clustering_ = false;
  bool responding_ = false;
  bool was_at_speed_ = false;
};

}  // namespace telltale::host::sim
