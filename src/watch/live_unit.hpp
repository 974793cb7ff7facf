// LiveUnit: one set watched as its rows come in.
#pragma once

#include <cstdint>
#include <deque>
#include <functional>
#include <string>
#include <vector>

#include "ingest/row.hpp"
#include "profile/inference.hpp"
#include "profile/profile_file.hpp"
#include "telltale/telltale.hpp"

namespace telltale::host {

/// A finding the moment the monitor tells of it; times as logged.
struct LiveFinding {
  Finding<double> finding;
  TimeMs since = kNoTime;
  TimeMs until = kNoTime;
};

/// Learns what kind of set it is from the first rows where the profile does
/// not say, then judges them and all that follow. Takes constant memory.
class LiveUnit {
 public:
  using Listener = std::function<void(const LiveFinding&)>;

  /// `profile` must outlive the unit. `interval_s`: 0 where it is not known.
  LiveUnit(std::string name, const ProfileFile& profile, double interval_s,
           bool wall_clock, Listener listener);
  LiveUnit(const LiveUnit&) = delete;
  LiveUnit& operator=(const LiveUnit&) = delete;

  void step(const Row& row);
  /// Judges what is still held back, and where `ends_run` ends an open run.
  void finish(bool ends_run);

  [[nodiscard]] const std::string& name() const { return name_; }
  [[nodiscard]] std::uint64_t rows() const { return rows_; }
  [[nodiscard]] std::uint64_t runs() const { return box_.monitor().runs(); }
  [[nodiscard]] TimeMs last_logged() const { return last_logged_; }
  /// The limits contradict each other; nothing is judged.
  [[nodiscard]] Setup setup() const { return setup_; }
  [[nodiscard]] const Profile& profile() const { return profile_; }
  /// Findings that stand.
  [[nodiscard]] const std::vector<LiveFinding>& open() const { return open_; }
  [[nodiscard]] Severity worst_seen() const { return worst_; }

  /// All that must survive a restart, as bytes for this very build.
  [[nodiscard]] std::string save() const;
  /// False where the bytes are not from this build, or damaged: the unit is as
  /// it was. Rows up to the last one saved are passed over from then on.
  bool load(std::string_view bytes);

 private:
  using Watcher = Box<double, AllChecks>;
  /// What is saved beside the state of the box: plain numbers.
  struct Saved {
    Rating rating;
    float load_scale_kw;
    float interval_s;
    TimeMs last_at;
    TimeMs last_logged;
    TimeMs shift_from;
    DurationMs shift;
    std::uint64_t rows;
    Severity worst;
    std::uint32_t open;  // so many LiveFindings follow
  };

  void learn(const Row& row);
  void begin();
  /// Where no rating is known, 100 % load is the highest seen so far.
  void relearn_scale(const Row& row);
  void judge(const Row& row);
  void tell(const Finding<double>& finding);
  [[nodiscard]] TimeMs as_logged(TimeMs at) const;
  [[nodiscard]] FindingSink<double> sink();

  std::string name_;
  const ProfileFile& file_;
  Listener listener_;
  double interval_s_;
  bool wall_clock_;
  bool begun_ = false;
  Inference inference_;
  std::deque<Row> held_back_;
  int turning_rows_ = 0;
  Profile profile_;
  Watcher box_;
  Setup setup_;
  std::vector<LiveFinding> open_;
  Severity worst_ = Severity::not_judged;
  TimeMs last_at_ = kNoTime;
  TimeMs last_logged_ = kNoTime;
  TimeMs pass_over_to_ = kNoTime;  // rows of before the restart
  DurationMs restart_shift_{};     // added to the analysis clock since
  /// The log's clock less the analysis clock, and since when.
  DurationMs offset_{};
  DurationMs offset_before_{};
  TimeMs offset_since_ = kNoTime;
  std::uint64_t rows_ = 0;
};

}  // namespace telltale::host
