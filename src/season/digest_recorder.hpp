// DigestRecorder: gathers what a season keeps of a unit's runs, scan by scan.
#pragma once

#include <array>
#include <map>
#include <memory>
#include <vector>

#include "season/minute_series.hpp"
#include "season/run_digest.hpp"
#include "season/start_watch.hpp"
#include "session/run_observer.hpp"
#include "summary/channel_summary.hpp"

namespace telltale::host::season {

/// Watches one unit of one log. Memory is bounded in the length of a run.
class DigestRecorder final : public RunObserver {
 public:
  explicit DigestRecorder(std::string unit, const Rating& rating)
      : unit_(std::move(unit)), rating_(rating) {
    clear();
  }

  void step(const Moment<double>& m) override;
  void end_run(const RunFacts& facts, const RunReport& run) override;

  [[nodiscard]] const std::string& unit() const { return unit_; }
  /// The runs so far. What a report says of them (findings, phases, overall
  /// statistics) is added by digest_log.
  [[nodiscard]] std::vector<RunDigest>& runs() { return runs_; }

 private:
  /// A mean that grows, and the spread about it.
  struct Gathered {
    double weight = 0.0;
    double mean = 0.0;
    double square = 0.0;

    void add(double seconds, double x);
    [[nodiscard]] double value() const;
    [[nodiscard]] double sd() const;
  };
  struct LoadCell {
    double seconds = 0.0;
    std::array<Gathered, 9> of;
  };
  struct WarmthCell {
    double seconds = 0.0;
    Gathered degc, kpa, load;
  };

  void clear();
  void follow_on_load(const Moment<double>& m);
  void follow_block(const Moment<double>& m);
  void bin(const Block<double>& block);
  void bin_warmth(const Block<double>& block, Channel channel);
  void fill_bins(RunDigest& run) const;
  void fill_figures(const RunFacts& facts, RunDigest& run) const;
  void add_simple_figure(FigureKind kind, const char* basis, double value,
                         double at, RunDigest& run) const;

  std::string unit_;
  Rating rating_;
  std::vector<RunDigest> runs_;

  StartWatch start_;
  MinuteSeries minutes_;
  std::array<std::unique_ptr<ChannelSummary>, kChannelCount> on_load_;
  std::map<int, LoadCell> load_cells_;
  std::map<int, WarmthCell> oil_cells_;
  std::map<int, WarmthCell> coolant_cells_;
  Gathered load_, water_, air_;
  double at_speed_s_ = 0.0;
  double on_load_s_ = 0.0;
  double light_s_ = 0.0;
  double energy_kwh_ = 0.0;
  double hours_start_ = kNone;
  double hours_end_ = kNone;
  double starts_ = kNone;
  double first_speed_ = kNone;
  DurationMs interval_{};
  bool load_rated_ = false;
  bool leg_volts_ = false;
  bool has_load_ = false;
  bool has_energy_ = false;
};

}  // namespace telltale::host::season
