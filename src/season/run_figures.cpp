#include "season/run_figures.hpp"

#include <algorithm>
#include <cmath>
#include <functional>

#include "season/robust_fit.hpp"
#include "telltale/condition/median.hpp"
#include "telltale/condition/oil_viscosity.hpp"

namespace telltale::host::season {
namespace {

constexpr double kMinute_s = 60.0;
// A line is kept where the condition moved enough to tell one: % of rating,
// log10 viscosity (some 1 K near 85 degC).
constexpr double kTellingLoad = 2.0;
constexpr double kTellingViscosity = 0.008;

/// Pairs of condition and figure.
struct Points {
  std::vector<double> x;
  std::vector<double> y;

  void add(double condition, double figure) {
    if (!std::isfinite(condition) || !std::isfinite(figure)) return;
    x.push_back(condition);
    y.push_back(figure);
  }
};

class RunFigures {
 public:
  RunFigures(std::span<const Minute> minutes, const FigureContext& context)
      : minutes_(minutes), about_(context) {}

  std::vector<RunFigure> all() {
    oil();
    if (about_.load_rated) {
      frequency();
      by_load(FigureKind::voltage_at_load, about_.leg_volts ? "leg" : "line",
              Track::load, Track::voltage, 2.0);
      by_load(FigureKind::exhaust_at_load, about_.wet_exhaust ? "wet" : "dry",
              Track::load_2min, Track::exhaust_temperature, 10.0);
      by_load(FigureKind::coolant_at_load, "load", Track::load_8min,
              Track::coolant_temperature, 20.0);
    }
    charging();
    return std::move(out_);
  }

 private:
  void put(FigureKind kind, std::string basis, const RobustLine& line,
           std::size_t n, double telling) {
    if (!line.ok) return;
    RunFigure figure;
    figure.kind = kind;
    figure.basis = std::move(basis);
    figure.value = line.level;
    figure.se = line.level_se;
    figure.at = line.middle;
    if (line.spread >= telling) {
      figure.slope = line.slope;
      figure.slope_se = line.slope_se;
    }
    figure.n = static_cast<int>(n);
    out_.push_back(std::move(figure));
  }

  /// Minutes later than so many after the start.
  Points points(Track x, Track y, double after_min) const {
    Points points;
    for (const Minute& m : minutes_) {
      if (m.since_running_s < after_min * kMinute_s) continue;
      points.add(m[x], m[y]);
    }
    return points;
  }
  void by_load(FigureKind kind, const char* basis, Track load, Track figure,
               double after_min) {
    const Points p = points(load, figure, after_min);
    if (p.y.size() < kLeastMinutes) return;
    put(kind, basis, robust_line(p.x, p.y), p.y.size(), kTellingLoad);
  }

  void frequency() {
    const Points p = points(Track::load, Track::frequency, 2.0);
    if (p.y.size() < kLeastMinutes) return;
    const RobustLine line = robust_line(p.x, p.y);
    put(FigureKind::frequency_at_load, "load", line, p.y.size(), kTellingLoad);
    droop(line, p);
  }
  void droop(const RobustLine& line, const Points& p) {
    const auto [low, high] = std::minmax_element(p.x.begin(), p.x.end());
    const double per_hz = 1e4 / static_cast<double>(about_.rating.frequency_hz);
    if (!line.ok || !std::isfinite(per_hz) || *high - *low < kDroopSpan ||
        !(line.slope_se * per_hz <= kDroopDoubt)) {
      return;
    }
    RunFigure figure;
    figure.kind = FigureKind::droop;
    figure.basis = "load";
    figure.value = -line.slope * per_hz;
    figure.se = line.slope_se * per_hz;
    figure.n = static_cast<int>(p.y.size());
    out_.push_back(std::move(figure));
  }

  void oil() {
    const bool by_oil =
        std::any_of(minutes_.begin(), minutes_.end(), [](const Minute& m) {
          return std::isfinite(m[Track::oil_temperature]);
        });
    const Track warmth =
        by_oil ? Track::oil_temperature : Track::coolant_temperature;
    // Coolant leads the oil by some minutes.
    const double after_s = (by_oil ? 8.0 : 20.0) * kMinute_s;
    double hottest = -300.0;
    for (const Minute& m : minutes_) {
      if (m.since_running_s >= after_s && std::isfinite(m[warmth])) {
        hottest = std::max(hottest, m[warmth]);
      }
    }
    Points p;
    const Minute* before = nullptr;
    for (const Minute& m : minutes_) {
      const bool settled =
          before != nullptr && m.since_running_s >= after_s &&
          m[warmth] >= hottest - kHotBand_k &&
          std::abs(m[warmth] - (*before)[warmth]) <=
              kSettled_k_min * (m.since_running_s - before->since_running_s) /
                  kMinute_s;
      if (settled) p.add(log_viscosity(m[warmth]), m[Track::oil_pressure]);
      before = &m;
    }
    if (p.y.size() < kLeastMinutes) return;
    put(FigureKind::hot_oil_pressure, by_oil ? "oil" : "coolant",
        robust_line(p.x, p.y), p.y.size(), kTellingViscosity);
    if (!out_.empty()) {
      out_.back().at = celsius_of_log_viscosity(out_.back().at);
    }
  }

  /// Between 10 and 40 min after the start: late enough for the charge to be
  /// up, early enough to be the same in short and long runs.
  void charging() {
    std::vector<double> volts;
    double air = 0.0;
    int with_air = 0;
    for (const Minute& m : minutes_) {
      const bool counts =
          about_.begins_in_log || (m.since_running_s >= 10.0 * kMinute_s &&
                                   m.since_running_s <= 40.0 * kMinute_s);
      if (!counts || !std::isfinite(m[Track::battery_voltage])) continue;
      volts.push_back(m[Track::battery_voltage]);
      if (!std::isfinite(m[Track::air_temperature])) continue;
      air += m[Track::air_temperature];
      ++with_air;
    }
    if (volts.size() < kLeastMinutes) return;
    RunFigure figure;
    figure.kind = FigureKind::charging_voltage;
    figure.basis = "battery";
    figure.n = static_cast<int>(volts.size());
    figure.value = median_in_place(std::span<double>(volts));
    for (double& v : volts) v = std::abs(v - figure.value);
    // 1.2533: a median's standard error over a mean's.
    figure.se = 1.2533 * 1.4826 * median_in_place(std::span<double>(volts)) /
                std::sqrt(static_cast<double>(volts.size()));
    if (with_air > 0) figure.at = air / with_air;
    out_.push_back(std::move(figure));
  }

  static constexpr std::size_t kLeastMinutes = 3;
  static constexpr double kDroopSpan = 30.0;  // % of rating
  static constexpr double kDroopDoubt = 1.0;  // percentage points, se
  static constexpr double kHotBand_k = 25.0;
  static constexpr double kSettled_k_min = 1.0;

  std::span<const Minute> minutes_;
  const FigureContext& about_;
  std::vector<RunFigure> out_;
};

}  // namespace

std::vector<RunFigure> figures_of(std::span<const Minute> minutes,
                                  const FigureContext& context) {
  return RunFigures(minutes, context).all();
}

double celsius_of_log_viscosity(double log_v) {
  double low = -20.0;
  double high = 160.0;
  for (int i = 0; i < 60; ++i) {
    const double middle = 0.5 * (low + high);
    (log_viscosity(middle) > log_v ? low : high) = middle;
  }
  return 0.5 * (low + high);
}

}  // namespace telltale::host::season
