// RunRecorder: phases, statistics and load steps of the run in hand.
#pragma once

#include <array>
#include <memory>
#include <vector>

#include "ingest/row.hpp"
#include "report/health_report.hpp"
#include "session/log_trail.hpp"
#include "summary/channel_summary.hpp"
#include "telltale/condition/conditioner.hpp"

namespace telltale::host {

class RunRecorder {
 public:
  explicit RunRecorder(const LogTrail& trail) : trail_(&trail) { clear(); }

  /// A scan that was judged.
  void step(const Moment<double>& m, TimeMs phase_since);
  /// Fills what it knows of a run that has just ended, and starts anew.
  void finish(const RunFacts& run, RunReport& out);

 private:
  struct Held {  // a scan whose fate is not decided yet
    TimeMs at;
    ChannelMask good;
    std::array<double, kChannelCount> value;
  };
  struct Span {
    Phase phase;
    TimeMs from;
    LogPlace place;  // looked up while the trail still has the row
  };

  void clear();
  void follow_phase(const Moment<double>& m, TimeMs since);
  void follow_readings(const Moment<double>& m);
  void count(const Held& scan);
  void touch(const Held& scan);
  void finish_phases(const RunFacts& run, RunReport& out) const;

  const LogTrail* trail_;
  std::vector<Span> spans_;
  std::array<std::unique_ptr<ChannelSummary>, kChannelCount> summaries_;
  std::vector<Held> held_;
};

}  // namespace telltale::host
