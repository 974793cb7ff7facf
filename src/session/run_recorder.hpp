// RunRecorder: phases and statistics of the run in hand.
#pragma once

#include <vector>

#include "session/channel_book.hpp"
#include "session/judged_scan.hpp"
#include "session/run_record.hpp"
#include "telltale/condition/phase.hpp"

namespace telltale::host {

class RunRecorder {
 public:
  /// The next scan of the run.
  void step(const JudgedScan& scan, const ScanNote& note);
  /// Fills in what it knows of the run, which has just ended at `end`, and
  /// starts anew.
  void finish(const RunFacts& run, const LogPlace& end, RunRecord& out);

 private:
  struct Span {
    Phase phase;
    TimeMs from;
    LogPlace place;
  };

  void follow_phase(Phase phase, const ScanNote& note);
  void follow_readings(const JudgedScan& scan);
  void finish_phases(const RunFacts& run, const LogPlace& end,
                     RunRecord& out) const;

  std::vector<Span> spans_;
  std::vector<JudgedScan> held_;  // their fate is not decided yet
  ChannelBook book_;
};

}  // namespace telltale::host
