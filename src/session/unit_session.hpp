// UnitSession: one unit of a log, judged row by row.
#pragma once

#include <deque>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "ingest/row.hpp"
#include "report/health_report.hpp"
#include "session/finding_book.hpp"
#include "session/log_trail.hpp"
#include "session/picture_recorder.hpp"
#include "session/run_chronicle.hpp"
#include "session/run_observer.hpp"
#include "telltale/telltale.hpp"

namespace telltale::host {

/// Feeds a monitor and turns what it tells into run reports.
class UnitSession {
 public:
  UnitSession(std::string name, const Profile& profile,
              std::vector<std::string> service_names,
              Threads threads = Threads::one);
  UnitSession(const UnitSession&) = delete;
  UnitSession& operator=(const UnitSession&) = delete;

  /// What the monitor says of the profile.
  [[nodiscard]] Setup setup() const { return setup_; }

  /// Lets somebody watch; nullptr: nobody. REQUIRES: it outlives the session.
  void observe(RunObserver* observer) { observer_ = observer; }
  /// Draws along from here on. REQUIRES: `store` outlives the session.
  void keep_pictures(PictureStore& store) { pictures_.emplace(store); }

  /// The next row of this unit.
  void step(const Row& row);
  /// The log is over.
  void finish();

  [[nodiscard]] std::deque<RunReport>& runs() { return runs_; }
  /// Findings that belong to no run.
  [[nodiscard]] std::vector<FindingReport>& loose() { return loose_; }
  /// Whether some row told how fast the set turns.
  [[nodiscard]] TurnSource turn_source() const { return turn_source_; }
  [[nodiscard]] const Profile& profile() const { return profile_; }

 private:
  FindingSink<double> sink();
  void mark_condemned();
  void take(const Finding<double>& finding);
  void after(const HostMonitor::Event& event);
  void end_run();
  void write_down(const Moment<double>& m);
  void collect_record(RunReport& run);
  void judge_together(RunReport& run);
  void tell_what_was_blind(RunReport& run) const;

  std::string name_;
  Profile profile_;
  std::vector<std::string> service_names_;
  HostMonitor monitor_;
  Setup setup_;
  FrameBuilder<double> builder_;
  LogTrail trail_;
  FindingBook book_;
  RunChronicle chronicle_;
  RunObserver* observer_ = nullptr;
  std::optional<PictureRecorder> pictures_;
  std::deque<RunReport> runs_;  // large: a vector would move them as it grows
  std::size_t recorded_ = 0;    // of these, that have their record
  std::vector<FindingReport> loose_;
  TimeMs last_at_ = kNoTime;
  TimeMs last_logged_ = kNoTime;
  LogPlace run_start_;
  LogPlace judged_place_;               // of the row that is judged next
  std::optional<Phase> written_phase_;  // of the scan written down last
  TurnSource turn_source_ = TurnSource::none;
  bool last_stop_loaded_ = false;
};

}  // namespace telltale::host
