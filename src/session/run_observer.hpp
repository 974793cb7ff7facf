// RunObserver: somebody who watches a unit's session and keeps what no report
// holds.
#pragma once

#include "report/health_report.hpp"
#include "telltale/condition/moment.hpp"

namespace telltale::host {

/// One observer sees one unit of one log, in order.
class RunObserver {
 public:
  RunObserver() = default;
  RunObserver(const RunObserver&) = delete;
  RunObserver& operator=(const RunObserver&) = delete;
  virtual ~RunObserver() = default;

  /// A scan that was judged, in a run or at rest. The pointers in it are good
  /// until the call returns.
  virtual void step(const Moment<double>& m) = 0;
  /// A run ended; step() told of all its scans. Findings of `run` may still be
  /// dropped when the log ends.
  virtual void end_run(const RunFacts& facts, const RunReport& run) = 0;
};

}  // namespace telltale::host
