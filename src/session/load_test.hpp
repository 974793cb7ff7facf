// LoadTest: load steps and steady levels of a run, as quantities of ISO 8528-5.
#pragma once

#include <optional>
#include <vector>

#include "report/health_report.hpp"
#include "session/log_trail.hpp"
#include "telltale/condition/moment.hpp"
#include "telltale/condition/performance_class.hpp"
#include "telltale/condition/step_response.hpp"

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
  /// What one clean step showed, judged by one class's tolerance bands.
  struct Answer {
    double deviation_pct = 0.0;
    double recovery_s = 0.0;  // NaN: not back by the end
  };
  struct Step {
    LoadStep report;
    double size_pct = 0.0;
    double interval_s = 0.0;
    bool alone = true;  // no second step came within the window
    Answer hz[3];       // by class G1..G3
    Answer volts[3];
    bool has_volts = false;
  };
  struct Level {  // steady running at one load
    double load_pct = 0.0;
    double hz = 0.0;
    double volts = 0.0;
    double n = 0.0;
    double volts_n = 0.0;
  };

  void remember(const Moment<double>& m);
  void follow_levels(const Moment<double>& m);
  void follow_band(const Moment<double>& m);
  void close_step(TimeMs until, const Moment<double>& m, bool alone);
  [[nodiscard]] double volts_of(const Moment<double>& m) const;
  [[nodiscard]] double nominal_volts(const Profile& profile) const;

  using Quantities = std::vector<AcceptanceQuantity>;
  void add_droop(const Profile& profile, Quantities& out) const;
  void add_band(Quantities& out) const;
  void add_voltage_range(const Profile& profile, Quantities& out) const;
  void add_steps(bool load_on, Quantities& out) const;

  const LogTrail* trail_;
  std::vector<Sample> recent_;
  std::optional<Pending> pending_;
  std::vector<Step> steps_;
  std::vector<Level> levels_;
  std::vector<double> window_;  // frequencies of the steady window in hand
  TimeMs window_from_ = kNoTime;
  double widest_band_hz_ = -1.0;
  double interval_s_ = 0.0;
  double hz_ = 0.0;
  Channel volts_channel_ = Channel::none;
  bool rated_ = false;
};

}  // namespace telltale::host
