// The acceptance sheet: what a load test showed, as quantities of ISO 8528-5.
#pragma once

#include <optional>
#include <vector>

#include "report/health_report.hpp"

namespace telltale::host {

/// One load step, as each performance class sees it.
struct TestStep {
  struct Answer {
    double deviation_pct = 0.0;  // of rated, from rated; signed
    double recovery_s = 0.0;     // NaN: not back by the end
  };
  LoadStep report;
  double size_pct = 0.0;  // of rating; negative: load off
  double interval_s = 0.0;
  bool alone = true;  // no second step came while it was watched
  Answer hz[3];       // by the tolerance bands of G1..G3
  Answer volts[3];
  bool has_volts = false;
};

/// Means of all steady running at one load.
struct TestLevel {
  double load_pct = 0.0;
  double hz = 0.0;
  double volts = 0.0;
  double n = 0.0;  // readings
  double volts_n = 0.0;
};

/// What was seen of a run's load steps and levels.
struct LoadTestRecord {
  std::vector<TestStep> steps;
  std::vector<TestLevel> levels;
  double widest_band_hz = -1.0;  // full width in steady windows; < 0: none
  double interval_s = 0.0;
  double hz = 0.0;         // rated
  double nominal_v = 0.0;  // of the volts that were followed
  bool rated = false;      // the load is in percent of a rating
};

/// The sheet, if the record amounts to a load test: a step of a quarter of the
/// rating or more, watched to its end, and three levels over 40 % of it.
std::optional<Acceptance> acceptance_of(const LoadTestRecord& seen,
                                        PerformanceClass held_to);

}  // namespace telltale::host
