// LoadTest: load steps and steady levels of a run, as quantities of ISO 8528-5.
#pragma once

#include <optional>
#include <vector>

#include "report/health_report.hpp"
#include "session/acceptance_sheet.hpp"
#include "session/log_trail.hpp"
#include "telltale/condition/moment.hpp"

namespace telltale::host {

/// Watches a run; memory is bounded by the seconds looked back, the steps and
/// the load levels of the run.
class LoadTest {
 public:
  explicit LoadTest(const LogTrail& trail) : trail_(&trail) {}

  /// A scan that was judged.
  void step(const Moment<double>& m);
  /// Fills in the run's load steps and, where it holds a load test, its
  /// acceptance sheet; starts anew.
  void finish(const Profile& profile, RunReport& out);

 private:
  struct Sample {
    TimeMs at;
    double hz;
    double volts;  // the first leg, or leg to leg
  };
  struct Pending {
    TimeMs at;
    double from_pct = 0.0;
    double before_hz = 0.0;
    double before_volts = 0.0;
  };

  void remember(const Moment<double>& m);
  void follow_levels(const Moment<double>& m);
  void follow_band(const Moment<double>& m);
  void close_step(TimeMs until, const Moment<double>& m, bool alone);
  [[nodiscard]] double volts_of(const Moment<double>& m) const;
  [[nodiscard]] double nominal_volts(const Profile& profile) const;

  const LogTrail* trail_;
  std::vector<Sample> recent_;
  std::optional<Pending> pending_;
  std::vector<double> window_;  // frequencies of the steady window in hand
  TimeMs window_from_ = kNoTime;
  Channel volts_channel_ = Channel::none;
  LoadTestRecord seen_;
};

}  // namespace telltale::host
