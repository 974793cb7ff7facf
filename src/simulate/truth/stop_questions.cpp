// Questions about the stop: how, and after what.
#include <algorithm>
#include <array>
#include <cmath>
#include <deque>

#include "simulate/portable_math.hpp"
#include "simulate/truth/judge.hpp"

namespace telltale::host::sim {
namespace {

/// stop-under-load, short-cool-down, abrupt-stop.
class StopQuestion : public Question {
 public:
  void see(const View& view) override {
    const Snapshot& s = view.now();
    if (s.phase == TruePhase::on_load) {
      load_.add(s.t, s.dt, s.load_pct);
      unloaded_s_ = 0.0;
    } else if (view.at_speed()) {
      unloaded_s_ += s.dt;
    }
    if (view.at_speed()) at_speed_until_ = s.t;
    if (s.phase == TruePhase::stopping && stop_ < 0.0) {
      stop_ = s.t;
      commanded_ = s.commanded_stop;
      load_pct_ = s.stop_load_pct;
    }
    if (at_speed_until_ > 0.0 && stop_ < 0.0) note_first_out(view);
  }

  void answer(const View& view, const TrueRun& run,
              std::vector<Verdict>& out) override {
    if (!run.ends_in_log || at_speed_until_ < 0.0) return;
    if (stop_ < 0.0) {  // seized: at rest before anybody could see it slow down
      stop_ = at_speed_until_;
      load_pct_ = view.now().stop_load_pct;
    }
    Verdict verdict;
    verdict.from = verdict.due = stop_;
    verdict.to = run.end;
    verdict.channel = Channel::power;
    verdict.value = load_pct_;
    verdict.unit = "% of rating";
    if (run.abrupt) {
      verdict.check = "abrupt-stop";
      verdict.degree = Degree::urgent;
      verdict.channel = Channel::engine_speed;
      verdict.first_out = first_out_;
      out.push_back(verdict);
      return;
    }
    if (commanded_ && load_pct_ > 10.0) {
      verdict.check = "stop-under-load";
      verdict.degree = Degree::attention;
      verdict.limit = 10.0;
      out.push_back(verdict);
      return;
    }
    // Ten on-load minutes that averaged over half load want a cool-down.
    const double mean = load_.mean();
    if (!(mean > 50.0) || unloaded_s_ >= 120.0) return;
    verdict.check = "short-cool-down";
    verdict.degree = Degree::note;
    verdict.from = stop_ - unloaded_s_;
    verdict.value = unloaded_s_;
    verdict.limit = 120.0;
    verdict.unit = "s";
    out.push_back(verdict);
  }

 private:
  // The channel that left its own normal band first before an abrupt stop.
  void note_first_out(const View& view) {
    const bool warm = view.at_speed_s() > 60.0;
    const double speed =
        view.value(Channel::engine_speed) / view.rating().speed_rpm();
    const bool sea = view.rating().cooling == Cooling::sea_water;
    struct Band {
      Channel channel;
      bool out;
    };
    const std::array bands = {
        Band{Channel::oil_pressure, view.now().oil_loss_pct > 25.0},
        Band{Channel::coolant_temperature,
             view.value(Channel::coolant_temperature) > (sea ? 70.0 : 93.0)},
        Band{Channel::exhaust_temperature,
             view.rating().exhaust == Exhaust::wet &&
                 view.value(Channel::exhaust_temperature) > 75.0},
        Band{Channel::engine_speed, std::abs(speed - 1.0) > 0.08},
    };
    if (!warm) return;
    bool any = false;
    for (const Band& band : bands) {
      if (!band.out) continue;
      any = true;
      if (first_out_ == Channel::none) first_out_ = band.channel;
    }
    if (!any) first_out_ = Channel::none;
  }

  RollingMean load_{600.0};
  double unloaded_s_ = 0.0;
  double at_speed_until_ = -1.0;
  double stop_ = -1.0;
  double load_pct_ = 0.0;
  bool commanded_ = false;
  Channel first_out_ = Channel::none;
};

/// fuel-starvation: speed sags by over 5 % at constant or falling load, three
/// times in five minutes or within the last minute before the stop.
class StarvationQuestion : public Question {
 public:
  void see(const View& view) override {
    const Snapshot& s = view.now();
    if (!view.at_speed() || view.at_speed_s() < 20.0) {
      if (s.phase == TruePhase::stopping && !stopped_) {
        stopped_ = true;
        stop_ = s.t;
      }
      return;
    }
    const double speed = s.hertz_low / view.rating().frequency_hz;
    const double hertz = view.value(Channel::frequency);
    const double mean = hertz / view.rating().frequency_hz;
    smooth_ = smooth_ > 0.0 ? lag(smooth_, mean, s.dt, 3.0) : mean;
    if (past_.empty() || s.t - past_.back().t >= 1.0) {
      past_.push_back({s.t, smooth_, s.settled_kw / view.rating().power_kw});
    }
    while (s.t - past_.front().t > 12.0) past_.pop_front();
    double high = 0.0;
    double lightest = 9.0;
    for (const Past& past : past_) {
      high = std::max(high, past.speed);
      lightest = std::min(lightest, past.load);
    }
    const bool constant =
        s.settled_kw / view.rating().power_kw <= lightest + 0.02;
    const bool sagged = constant && speed < high - 0.05;
    if (sagged && !in_sag_) sags_.push_back(s.t);
    in_sag_ = in_sag_ ? speed < high - 0.02 : sagged;
    if (sags_.size() >= 3 && due_ < 0.0 &&
        sags_.back() - sags_[sags_.size() - 3] <= 300.0) {
      from_ = sags_[sags_.size() - 3];
      due_ = s.t;
    }
    if (in_sag_) {
      last_ = s.t;
      worst_ = std::max(worst_, 100.0 * (high - speed));
    }
  }

  void answer(const View&, const TrueRun& run,
              std::vector<Verdict>& out) override {
    if (due_ < 0.0) {
      const bool at_the_end = stopped_ && !sags_.empty() &&
                              stop_ - sags_.back() <= 60.0 && run.abrupt;
      if (!at_the_end) return;
      from_ = sags_.back();
      due_ = stop_;
    }
    Verdict verdict;
    verdict.check = "fuel-starvation";
    verdict.degree = Degree::urgent;
    verdict.channel = Channel::engine_speed;
    verdict.from = from_;
    verdict.due = due_;
    verdict.to = last_;
    verdict.value = worst_;
    verdict.limit = 5.0;
    verdict.unit = "% of speed";
    out.push_back(verdict);
  }

 private:
  struct Past {
    double t;
    double speed;
    double load;
  };
  std::deque<Past> past_;
  std::vector<double> sags_;
  double smooth_ = 0.0;  // speed over nominal, without swings and overshoot
  bool in_sag_ = false;
  bool stopped_ = false;
  double stop_ = 0.0;
  double from_ = 0.0;
  double due_ = -1.0;
  double last_ = 0.0;
  double worst_ = 0.0;
};

}  // namespace

void add_stop_questions(const Scenario&, Questions& out) {
  out.push_back(std::make_unique<StopQuestion>());
  out.push_back(std::make_unique<StarvationQuestion>());
}

}  // namespace telltale::host::sim
