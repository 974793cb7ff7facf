// MadeRun: a few lines that make the scans of a whole run, for tests of the
// core. Analytic and free of noise; it shares no formula with the checks.
#pragma once

#include <cstdint>
#include <functional>
#include <utility>
#include <vector>

#include "telltale/acquire/frame.hpp"
#include "telltale/condition/moment.hpp"
#include "telltale/profile.hpp"

namespace telltale::test {

/// The rating plate of the made-up set: a small split-phase marine set.
struct Plate {
  double hz = 60.0;
  int poles = 2;
  double kw = 8.0;
  double volts = 240.0;  // leg to leg; leg to neutral if single
  int legs = 2;
  double battery = 12.0;

  [[nodiscard]] double rpm() const { return 120.0 * hz / poles; }
  [[nodiscard]] double leg_volts() const;
  /// Amps in each leg at rated power and unity power factor.
  [[nodiscard]] double leg_amps() const;
  /// What a technician would write down, all of it.
  [[nodiscard]] Profile profile() const;
};

/// A larger European one: 50 Hz, 1500 rpm, 230/400 V, 24 V battery.
inline constexpr Plate kEuropean{50.0, 4, 40.0, 400.0, 3, 24.0};

enum class Stage : std::uint8_t { rest, crank, run_up, run, coast };

/// The true state of the set at one scan.
struct Scene {
  double t = 0.0;  // seconds since the log began
  Stage stage = Stage::rest;
  double ran = 0.0;       // seconds by itself; 0 before
  double ratio = 0.0;     // speed over nominal speed
  double load_pct = 0.0;  // of rating
  double load_for = 0.0;  // seconds since the load was last switched
  double coolant = 20.0;  // degC
  double oil = 20.0;
  double winding = 25.0;
  double exhaust = 20.0;  // wet
};

/// One scan, with what the log's clock did before it.
struct MadeScan {
  Frame<double> frame;
  ClockStep clock = ClockStep::none;
  DurationMs clock_jump{};
};

class MadeRun {
 public:
  /// What a channel reads instead of `healthy`; NaN: missing.
  using Fault = std::function<double(const Scene& scene, double healthy)>;

  explicit MadeRun(const Plate& plate = {});

  // The plan, piece by piece; times in seconds.
  MadeRun& rest(double s);
  MadeRun& crank(double s);
  MadeRun& run_up(double s = 3.0);
  /// Running at that load, switched in one step.
  MadeRun& load(double pct, double s);
  /// Running while the load creeps from where it is to that.
  MadeRun& ramp(double pct, double s);
  MadeRun& coast(double s = 6.0);
  /// crank(3), run_up(3).
  MadeRun& start();
  /// load(0, 30), load(20, 300): the coolant is then well above 40 degC.
  MadeRun& warm();
  /// Three minutes without load, the run-down and rest after it.
  MadeRun& stop();
  /// Where the plan has got to, seconds since the log began.
  [[nodiscard]] double now() const;

  // How it is logged.
  MadeRun& every(double s);
  /// A channel slower than the scans; between its readings it is left out.
  MadeRun& channel_every(Channel channel, double s);
  MadeRun& without(Channel channel);
  MadeRun& with(Channel channel);
  MadeRun& gap(double from, double to);
  MadeRun& missing(Channel channel, double from, double to);
  MadeRun& fault(Channel channel, Fault fault);
  /// Speed over nominal speed instead of `healthy` while it turns: speed,
  /// frequency and what hangs on them.
  MadeRun& turn(Fault fault);
  /// One reading: the scan nearest to `at` reads `value`.
  MadeRun& single(Channel channel, double at, double value);
  MadeRun& alarm(int bit, double from, double to);
  MadeRun& state(EngineState state, double from, double to);
  /// The controller's state column, as the plan goes.
  MadeRun& with_state();
  MadeRun& clock_step(double at, double jump_s);
  /// Uniform noise of that half width, from a seed; what reads 0 keeps still.
  MadeRun& noise(Channel channel, double half_width, std::uint32_t seed);
  /// Readings in whole steps.
  MadeRun& resolution(Channel channel, double step);
  /// Slope of frequency over load, % of nominal from no load to full load; at
  /// full load it stands at nominal.
  MadeRun& droop(double pct);

  [[nodiscard]] const Plate& plate() const { return plate_; }
  [[nodiscard]] double interval_s() const { return interval_s_; }
  [[nodiscard]] std::vector<MadeScan> scans() const;

  /// When the log begins.
  static constexpr TimeMs kBegin{1'780'300'800'000};  // 2026-06-01T08:00:00Z
  static TimeMs time_of(double t);
  static double seconds_of(TimeMs at);

 private:
  struct Piece {
    Stage stage;
    double from;
    double length;
    double load_from;
    double load_to;
  };
  struct Span {
    double from;
    double to;
    int what;
  };
  struct Change {
    Channel channel;
    Fault fault;
  };

  MadeRun& add(Stage stage, double s, double from_pct, double to_pct);
  void advance(Scene& scene, double dt) const;
  void place(Scene& scene) const;
  [[nodiscard]] double healthy(Channel channel, const Scene& scene) const;
  [[nodiscard]] double reading(Channel channel, const Scene& scene) const;
  [[nodiscard]] EngineState state_at(const Scene& scene) const;
  [[nodiscard]] bool due(Channel channel, double t) const;
  [[nodiscard]] bool hidden(double t) const;

  Plate plate_;
  double interval_s_ = 1.0;
  double droop_pct_ = 3.0;
  bool with_state_ = false;
  ChannelMask logged_;
  std::vector<Piece> plan_;
  std::vector<Span> gaps_;
  std::vector<Span> alarms_;
  std::vector<Span> states_;
  std::vector<std::pair<double, double>> clock_steps_;
  std::vector<Change> changes_;
  std::vector<Fault> turns_;
  std::vector<std::pair<Channel, double>> slow_;
};

/// What a healthy value becomes: `to` that value, shifted `by`, `times` that.
using Become = std::function<double(double healthy)>;
Become to(double value);
Become by(double offset);
Become times(double factor);
/// That change from `from` on for `s` seconds, [from, from + s).
MadeRun::Fault during(double from, double s, Become become);
MadeRun::Fault since(double from, Become become);
/// A straight line from nothing at `from` to `offset` more after `s` seconds,
/// which then stays.
MadeRun::Fault creeping(double from, double s, double offset);

/// A healthy run from rest to rest: start, 5 min warming up at 20 % load,
/// `minutes` at 60 %, cool-down.
/// The log begins 120 s before the start and ends 30 s after the stop.
MadeRun usual_run(double minutes = 30.0, const Plate& plate = {});
/// When the 60 % come on in a usual run.
inline constexpr double kLoaded = 456.0;

}  // namespace telltale::test
