// RunRecorder: phases, statistics and load steps of the run in hand.
#pragma once

#include <vector>

#include "ingest/row.hpp"
#include "report/health_report.hpp"
#include "session/channel_book.hpp"
#include "session/log_trail.hpp"
#include "support/threads.hpp"
#include "telltale/condition/conditioner.hpp"

namespace telltale::host {

class RunRecorder {
 public:
  RunRecorder(const LogTrail& trail, Threads threads)
      : trail_(&trail), book_(threads) {}

  /// A scan that was judged.
  void step(const Moment<double>& m, TimeMs phase_since);
  /// Fills what it knows of a run that has just ended, and starts anew.
  void finish(const RunFacts& run, RunReport& out);

 private:
  struct Held {  // a scan whose fate is not decided yet
    TimeMs at;
    ChannelMask good;
    ChannelBook::Values values;
  };
  struct Span {
    Phase phase;
    TimeMs from;
    LogPlace place;  // looked up while the trail still has the row
  };

  void follow_phase(const Moment<double>& m, TimeMs since);
  void follow_readings(const Moment<double>& m);
  void finish_phases(const RunFacts& run, RunReport& out) const;

  const LogTrail* trail_;
  std::vector<Span> spans_;
  std::vector<Held> held_;
  ChannelBook book_;
};

}  // namespace telltale::host
