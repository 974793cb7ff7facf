// Questions about slow change within a run.
#include <algorithm>
#include <cmath>
#include <deque>

#include "simulate/truth/judge.hpp"
#include "simulate/truth/watch.hpp"

namespace telltale::host::sim {
namespace {

constexpr double kBinS = 10.0;

struct Bin {
  double t;
  double value;
  double load_pct;
};

/// A channel and the load, a value every 10 s, so far back as asked.
class History {
 public:
  History(Channel channel, double span_s)
      : channel_(channel), span_s_(span_s) {}

  /// True when a new value came.
  bool see(const View& view) {
    load_.add(view.now().t, view.now().dt, view.now().load_pct);
    const double t = view.now().t;
    if (!bins_.empty() && t - bins_.back().t < kBinS) return false;
    const double load = load_.mean();
    bins_.push_back({t, view.value(channel_),
                     std::isnan(load) ? view.now().load_pct : load});
    while (t - bins_.front().t > span_s_ + kBinS) bins_.pop_front();
    return true;
  }
  void clear() { bins_.clear(); }
  [[nodiscard]] const std::deque<Bin>& bins() const { return bins_; }

  /// The bin `back_s` ago, or null when the history is shorter.
  [[nodiscard]] const Bin* ago(double back_s) const {
    const Bin* found = nullptr;
    for (const Bin& bin : bins_) {
      if (bins_.back().t - bin.t >= back_s - 0.5) found = &bin;
    }
    return found;
  }
  [[nodiscard]] double load_range(double back_s) const {
    double low = 1e9;
    double high = -1e9;
    for (const Bin& bin : bins_) {
      if (bins_.back().t - bin.t > back_s + 0.5) continue;
      low = std::min(low, bin.load_pct);
      high = std::max(high, bin.load_pct);
    }
    return high - low;
  }

 private:
  Channel channel_;
  double span_s_;
  RollingMean load_{10.0};
  std::deque<Bin> bins_;
};

/// coolant-climb and exhaust-climb: more than 0.3 K/min over 10 min at
/// comparable load.
class ClimbQuestion : public Question {
 public:
  ClimbQuestion(std::string_view check, Channel channel, double floor_c,
                double warm_c)
      : floor_c_(floor_c),
        warm_c_(warm_c),
        history_(channel, kQuietS),
        coolant_(Channel::coolant_temperature, 300.0),
        watch_(check, channel, "degC/min", Side::above,
               {{Degree::attention, 0.3, 0.0}}) {}

  void see(const View& view) override {
    if (!view.at_speed()) {
      history_.clear();
      coolant_.clear();
      return;
    }
    coolant_.see(view);
    if (!history_.see(view)) return;
    const double t = view.now().t;
    const double now = history_.bins().back().value;
    const double coolant = coolant_.bins().back().value;
    const Bin* before = coolant_.ago(300.0);
    if (found_at_ < 0.0 && before != nullptr && coolant > warm_c_ &&
        std::abs(coolant - before->value) / 5.0 < 0.1) {
      found_at_ = t;  // the thermostat is at work: the start is over
    }
    const Bin* whole = history_.ago(600.0);
    const bool usable =
        whole != nullptr && found_at_ >= 0.0 && t - found_at_ >= 300.0 &&
        history_.load_range(kQuietS) <= 10.0 &&
        std::all_of(history_.bins().begin(), history_.bins().end(),
                    [this](const Bin& b) { return b.value > floor_c_; });
    watch_.see(t, kBinS, usable,
               whole == nullptr ? 0.0 : (now - whole->value) / 10.0);
  }
  void answer(const View&, const TrueRun&, std::vector<Verdict>& out) override {
    watch_.answer(out);
  }

 private:
  // Ten minutes, and five before them without a change of load.
  static constexpr double kQuietS = 900.0;
  double floor_c_;
  double warm_c_;
  double found_at_ = -1.0;
  History history_;
  History coolant_;
  Watch watch_;
};

/// exhaust-jump: more than 10 K in 60 s; 25 K near a start or a load change.
class JumpQuestion : public Question {
 public:
  void see(const View& view) override {
    if (!view.running()) {
      history_.clear();
      return;
    }
    if (!history_.see(view)) return;
    const Bin* minute = history_.ago(60.0);
    const bool moved =
        view.running_s() < 360.0 || history_.load_range(360.0) > 10.0;
    watch_.see(
        view.now().t, kBinS, minute != nullptr,
        minute == nullptr ? 0.0 : history_.bins().back().value - minute->value,
        moved ? 15.0 : 0.0);
  }
  void answer(const View&, const TrueRun&, std::vector<Verdict>& out) override {
    watch_.answer(out);
  }

 private:
  History history_{Channel::exhaust_temperature, 360.0};
  Watch watch_{"exhaust-jump",
               Channel::exhaust_temperature,
               "K in 60 s",
               Side::above,
               {{Degree::urgent, 10.0, 0.0}}};
};

/// coolant-cold: not warm after 20 min on load.
class ColdQuestion : public Question {
 public:
  explicit ColdQuestion(bool sea)
      : watch_("coolant-cold", Channel::coolant_temperature, "degC",
               Side::below, {{Degree::attention, sea ? 40.0 : 65.0, 60.0}}) {}

  void see(const View& view) override {
    if (!view.at_speed()) loaded_s_ = 0.0;
    if (view.now().phase == TruePhase::on_load) loaded_s_ += view.now().dt;
    watch_.see(view.now().t, view.now().dt,
               loaded_s_ > 1200.0 && view.now().phase == TruePhase::on_load,
               view.value(Channel::coolant_temperature));
  }
  void answer(const View&, const TrueRun&, std::vector<Verdict>& out) override {
    watch_.answer(out);
  }

 private:
  double loaded_s_ = 0.0;
  Watch watch_;
};

/// frequency-drift: the setting against what it was when the run began.
class DriftQuestion : public Question {
 public:
  void see(const View& view) override {
    if (!view.steady()) return;
    const Snapshot& s = view.now();
    if (std::isnan(first_)) first_ = s.drift_pct;
    watch_.see(s.t, s.dt, view.at_speed_s() > 1200.0,
               std::abs(s.drift_pct - first_));
  }
  void answer(const View&, const TrueRun&, std::vector<Verdict>& out) override {
    watch_.answer(out);
  }

 private:
  double first_ = std::nan("");
  Watch watch_{"frequency-drift",
               Channel::frequency,
               "% of nominal",
               Side::above,
               {{Degree::attention, 1.0, 60.0}}};
};

/// oil-pressure-fade: pressure lost since the run began, at the temperature
/// that it has now.
class FadeQuestion : public Question {
 public:
  void see(const View& view) override {
    if (!view.steady()) return;
    const Snapshot& s = view.now();
    if (std::isnan(first_)) first_ = s.oil_loss_pct;
    const double lost =
        100.0 * (1.0 - (100.0 - s.oil_loss_pct) / (100.0 - first_));
    watch_.see(s.t, s.dt, true, lost);
  }
  void answer(const View&, const TrueRun&, std::vector<Verdict>& out) override {
    watch_.answer(out);
  }

 private:
  double first_ = std::nan("");
  Watch watch_{
      "oil-pressure-fade",
      Channel::oil_pressure,
      "% below the line",
      Side::above,
      {{Degree::attention, 10.0, 300.0}, {Degree::urgent, 25.0, 300.0}}};
};

/// charging-fade: what is missing against a sound charger (which may go to
/// float), in the last 5 min against 10 to 15 min after the start.
class ChargingFadeQuestion : public Question {
 public:
  void see(const View& view) override {
    const double t = view.now().t;
    if (!view.running()) return;
    if (view.running_s() < 600.0) return;
    if (!history_.empty() && t - history_.back().t < 30.0) return;
    history_.push_back({t, view.now().charge_lost_v, view.battery()});
  }
  void answer(const View& view, const TrueRun&,
              std::vector<Verdict>& out) override {
    if (history_.size() < 40) return;  // 20 min behind the first ten
    const double end = history_.back().t;
    const double begin = history_.front().t;
    const double blocks = view.rating().battery_v / 12.0;
    const double first = mean(begin, begin + 300.0);
    const double last = mean(end - 300.0, end);
    const double third = mean(end - (end - begin) / 3.0 - 150.0,
                              end - (end - begin) / 3.0 + 150.0);
    const double fall = (last - first) / blocks;
    const bool going_on = (last - third) / blocks > 0.08;
    const bool low = history_.back().volts / blocks < 13.2;
    if (fall <= 0.3 || !(going_on || low)) return;
    Verdict verdict;
    verdict.check = "charging-fade";
    verdict.degree = Degree::attention;
    verdict.channel = Channel::battery_voltage;
    verdict.value = last - first;
    verdict.limit = 0.3 * blocks;
    verdict.unit = "V";
    verdict.to = end;
    for (const Point& point : history_) {
      if (point.lost - first <= 0.3 * blocks) verdict.from = point.t;
    }
    verdict.due = verdict.from;
    out.push_back(verdict);
  }

 private:
  [[nodiscard]] double mean(double from, double to) const {
    double sum = 0.0;
    int count = 0;
    for (const Point& point : history_) {
      if (point.t < from || point.t > to) continue;
      sum += point.lost;
      ++count;
    }
    return count > 0 ? sum / count : std::nan("");
  }
  struct Point {
    double t;
    double lost;
    double volts;
  };
  std::vector<Point> history_;
};

}  // namespace

void add_trend_questions(const Scenario& scenario, Questions& out) {
  const Rating& rating = scenario.set.rating;
  const bool sea = rating.cooling == Cooling::sea_water;
  out.push_back(std::make_unique<ClimbQuestion>(
      "coolant-climb", Channel::coolant_temperature, sea ? 60.0 : 80.0,
      sea ? 45.0 : 70.0));
  if (rating.exhaust == Exhaust::wet) {
    out.push_back(std::make_unique<ClimbQuestion>("exhaust-climb",
                                                  Channel::exhaust_temperature,
                                                  -50.0, sea ? 45.0 : 70.0));
    out.push_back(std::make_unique<JumpQuestion>());
  }
  out.push_back(std::make_unique<ColdQuestion>(sea));
  out.push_back(std::make_unique<DriftQuestion>());
  out.push_back(std::make_unique<FadeQuestion>());
  out.push_back(std::make_unique<ChargingFadeQuestion>());
}

}  // namespace telltale::host::sim
