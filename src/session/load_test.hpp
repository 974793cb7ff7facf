// LoadTest: load steps and steady levels of a run, as quantities of ISO 8528-5.
#pragma once

#include <optional>
#include <vector>

#include "session/acceptance_sheet.hpp"
#include "session/judged_scan.hpp"
#include "session/run_record.hpp"
#include "telltale/profile.hpp"

namespace telltale::host {

/// Watches a run; memory is bounded by the seconds looked back, the steps and
/// the load levels of the run.
class LoadTest {
 public:
  /// REQUIRES: `profile` outlives the load test.
  explicit LoadTest(const Profile& profile) : profile_(&profile) {}

  /// The next scan of the run.
  void step(const JudgedScan& scan, const ScanNote& note);
  /// Fills in the run's load steps and, where it holds a load test, its
  /// acceptance sheet; starts anew.
  void finish(RunRecord& out);

 private:
  struct Sample {
    TimeMs at;
    double hz;
    double volts;  // the first leg, or leg to leg
  };
  struct Pending {
    TimeMs at;
    LogPlace place;
    double from_pct = 0.0;
    double before_hz = 0.0;
    double before_volts = 0.0;
  };

  void begin_step(const JudgedScan& scan, const ScanNote& note);
  void remember(const JudgedScan& scan);
  void follow_levels(const JudgedScan& scan);
  void follow_band(const JudgedScan& scan);
  void close_step(TimeMs until, double to_pct, bool alone);
  [[nodiscard]] double nominal_volts() const;

  const Profile* profile_;
  std::vector<Sample> recent_;
  std::optional<Pending> pending_;
  std::vector<double> window_;  // frequencies of the steady window in hand
  TimeMs window_from_ = kNoTime;
  Channel volts_channel_ = Channel::none;
  LoadTestRecord seen_;
};

}  // namespace telltale::host
