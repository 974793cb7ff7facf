// The model of a health report: everything any writer may print, nothing to
// be worked out any more.
#pragma once

#include <cstdint>
#include <deque>
#include <limits>
#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "checks/catalogue.hpp"
#include "ingest/log.hpp"
#include "ingest/row_tally.hpp"
#include "report/run_past.hpp"
#include "summary/channel_figures.hpp"
#include "telltale/condition/phase.hpp"
#include "telltale/detect/finding.hpp"
#include "telltale/profile.hpp"

namespace telltale::host {

class Picture;
struct RunPicture;
struct AlarmReport;

/// A place in the log: the stamp as logged and the line it stands on.
struct LogPlace {
  TimeMs logged = kNoTime;
  std::uint64_t line = 0;  // 0: not known
};

/// One figure of a finding's evidence. Which figures there are depends on the
/// check; each says where in the log it can be recomputed.
struct Evidence {
  std::string label;   // "lowest", "mean", "expected", ...
  double value = 0.0;  // in `unit`; NaN: the label says it all
  Unit unit = Unit::one;
  LogPlace from;               // one place, or the first of a stretch
  LogPlace to;                 // line 0: one place only
  std::uint64_t readings = 0;  // of the stretch; 0: not counted
};

struct FindingReport {
  const CheckCard* check = nullptr;
  Finding<double> finding;  // times on the analysis clock
  LogPlace from;
  LogPlace to;
  double held_s = 0.0;  // how long, clock jumps left out
  std::vector<Evidence> evidence;
  const CheckCard* caused_by = nullptr;
  Channel first_out = Channel::none;
  bool limit_from_profile = false;
  std::string subject;  // alarm or service item it is about, if any
  /// The stretch it is about, where pictures were asked for.
  std::shared_ptr<const Picture> close_up;
};

struct PhaseSpan {
  Phase phase = Phase::unknown;
  LogPlace from;
  LogPlace to;
  TimeMs since = kNoTime;  // the same on the analysis clock
  TimeMs until = kNoTime;
};

/// Small: a log of years holds half a million of them.
struct LoadStep {
  static constexpr float kNone = std::numeric_limits<float>::quiet_NaN();

  TimeMs logged = kNoTime;
  std::uint32_t line = 0;
  bool observable = false;
  float from_pct = 0.0F;
  float to_pct = 0.0F;
  float frequency_dip_pct = kNone;  // against just before, % of rated; or NaN
  float recovery_s = kNone;         // NaN: it can't be had

  [[nodiscard]] LogPlace at() const { return {logged, line}; }
};

/// How well a quantity could be seen in the samples.
enum class Bound : std::uint8_t { exact, lower, not_observable };

/// One quantity of ISO 8528-5 and the class it reaches.
struct AcceptanceQuantity {
  std::string quantity;  // "frequency_droop", "voltage_recovery_load_on", ...
  double value = 0.0;    // NaN: it can't be had
  std::string unit;
  std::string reached;  // "G1".."G3", "none"; empty: can't be told
  Bound bound = Bound::exact;
  double allowed = 0.0;  // by the class the set is held to, same unit
};

/// Every quantity a sheet can hold, in its order.
inline constexpr std::string_view kAcceptanceQuantities[] = {
    "frequency_droop",  "frequency_band",
    "frequency_dip",    "frequency_recovery_load_on",
    "voltage_dip",      "voltage_recovery_load_on",
    "frequency_rise",   "frequency_recovery_load_off",
    "voltage_rise",     "voltage_recovery_load_off",
    "voltage_deviation"};

/// A load test that was found in the run.
struct Acceptance {
  PerformanceClass held_to = PerformanceClass::G1;
  double interval_s = 0.0;  // of the samples
  std::vector<AcceptanceQuantity> quantities;
};

struct NotChecked {
  const CheckCard* check = nullptr;
  std::string why;

  friend bool operator==(const NotChecked&, const NotChecked&) = default;
};

struct RunReport {
  std::string unit;
  int run = 1;
  LogPlace start;
  LogPlace end;
  bool begins_in_log = false;
  enum class Ends : std::uint8_t { stop, abrupt, log } ends = Ends::stop;
  double seconds = 0.0;
  std::optional<int> attempts;
  std::optional<double> crank_seconds;
  std::vector<PhaseSpan> phases;
  FiguresByChannel channels;
  std::vector<LoadStep> load_steps;
  std::optional<Acceptance> acceptance;
  Severity verdict = Severity::healthy;
  std::vector<FindingReport> findings;  // gravest first
  /// Mostly the same as that of the run before, and then held once.
  std::shared_ptr<const std::vector<NotChecked>> blind_list;
  std::optional<RunPast> past;  // where a store was asked
  /// Where pictures were asked for.
  std::shared_ptr<const RunPicture> picture;

  [[nodiscard]] const std::vector<NotChecked>& not_checked() const {
    static const std::vector<NotChecked> kNone;
    return blind_list ? *blind_list : kNone;
  }
};

/// One set as it was judged.
struct UnitReport {
  std::string name;
  Rating rating;
  std::vector<std::string> inferred;  // sentences
};

struct HealthReport {
  LogLayout layout;
  RowTally tally;
  std::optional<TimeMs> first;  // as logged
  std::optional<TimeMs> last;
  std::vector<std::string> notes;
  std::vector<std::string> alarm_names;  // of the bits of an AlarmMask
  /// The controller's own, where their analysis was asked for and any came.
  std::shared_ptr<const AlarmReport> alarms;
  std::vector<UnitReport> units;
  std::vector<FindingReport> findings;  // about the data, outside every run
  std::deque<RunReport> runs;           // large, and many: they are never moved
  /// Whether the log tells when an engine turns; without that nothing of a run
  /// could be judged.
  bool shows_running = true;

  /// The gravest severity of all runs and of the log itself.
  [[nodiscard]] Severity verdict() const;
};

}  // namespace telltale::host
