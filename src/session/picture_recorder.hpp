// PictureRecorder: draws along while one unit's log is judged.
#pragma once

#include <array>
#include <cstddef>
#include <memory>
#include <vector>

#include "ingest/row.hpp"
#include "report/health_report.hpp"
#include "session/close_ups.hpp"
#include "summary/picture_pyramid.hpp"
#include "summary/picture_store.hpp"
#include "summary/run_picture.hpp"
#include "telltale/telltale.hpp"

namespace telltale::host {

/// Gives every run its pictures and every finding its close-up. Bounded
/// memory: see PicturePyramid and PictureStore.
class PictureRecorder {
 public:
  /// REQUIRES: `store` outlives the recorder.
  explicit PictureRecorder(PictureStore& store)
      : store_(&store), close_ups_(store) {}

  /// A row on its way to the monitor.
  void row(const Row& row);
  /// The monitor told of a finding.
  void take(const Finding<double>& finding) { close_ups_.take(finding); }
  /// The monitor has judged a scan; `began`: it is the first of a run.
  void step(const HostMonitor& monitor, bool began);
  /// A run ended: gives it and its findings their pictures.
  void end_run(const RunFacts& facts, RunReport& run);
  /// The log is over; the findings that belong to no run get theirs.
  void finish(std::vector<FindingReport>& loose);

 private:
  /// What a row tells that no scan does.
  struct Unjudged {
    TimeMs at = kNoTime;
    TimeMs logged = kNoTime;
    ChannelMask blank = 0;
    bool clock_set = false;
  };

  void begin_run(const Moment<double>& m);
  void follow_run(const HostMonitor& monitor, const PictureColumn& scan);
  void follow_scatters(const Moment<double>& m);
  void close_tail();
  [[nodiscard]] static DurationMs margin(DurationMs interval);

  PictureStore* store_;
  PicturePyramid pyramid_;
  CloseUps close_ups_;
  ClockMap clock_;
  std::array<Unjudged, 2> rows_{};  // the monitor judges one row late
  std::size_t waiting_ = 0;
  std::shared_ptr<RunPicture> run_;   // in hand
  std::shared_ptr<RunPicture> tail_;  // ended; the rest after it is still drawn
  TimeMs tail_until_ = kNoTime;
  double tail_worth_ = 1.0;
  TimeMs last_end_ = kNoTime;
  DurationMs interval_{};
};

}  // namespace telltale::host
