// Questions about the start: battery, cranking, oil.
#include <algorithm>
#include <cmath>

#include "simulate/truth/judge.hpp"
#include "simulate/truth/watch.hpp"

namespace telltale::host::sim {
namespace {

/// crank-dip: lowest volts while cranking, held for two states (0.4 s).
class CrankDipQuestion : public Question {
 public:
  explicit CrankDipQuestion(double blocks)
      : watch_("crank-dip", Channel::battery_voltage, "V", Side::below,
               {{Degree::attention, 9.6 * blocks, 0.35},
                {Degree::urgent, 8.5 * blocks, 0.35}}) {}

  void see(const View& view) override {
    watch_.see(view.now().t, view.now().dt,
               view.now().state == EngineState::cranking,
               view.value(Channel::battery_voltage));
  }
  void answer(const View&, const TrueRun&, std::vector<Verdict>& out) override {
    watch_.answer(out);
  }

 private:
  Watch watch_;
};

/// battery-rest-low: volts at rest, the last 45 s before the start left out.
class RestQuestion : public Question {
 public:
  void see(const View& view) override {
    const Snapshot& s = view.now();
    if (view.running()) started_ = true;
    if (started_ || s.state != EngineState::stopped) return;
    rest_.push_back({s.t, s.dt, view.value(Channel::battery_voltage)});
    if (rest_.size() > 4000) rest_.erase(rest_.begin(), rest_.begin() + 2000);
  }
  void answer(const View& view, const TrueRun& run,
              std::vector<Verdict>& out) override {
    if (!run.begins_in_log) return;
    std::vector<double> volts;
    double seconds = 0.0;
    double first = 0.0;
    for (const Rest& rest : rest_) {
      if (rest.t > run.start - 45.0) continue;
      if (volts.empty()) first = rest.t;
      volts.push_back(rest.volts);
      seconds += rest.dt;
    }
    if (seconds < 30.0) return;
    std::nth_element(
        volts.begin(),
        volts.begin() + static_cast<std::ptrdiff_t>(volts.size() / 2),
        volts.end());
    const double median = volts[volts.size() / 2];
    const double limit = 12.2 * view.rating().battery_v / 12.0;
    if (median >= limit) return;
    Verdict verdict;
    verdict.check = "battery-rest-low";
    verdict.degree = Degree::attention;
    verdict.channel = Channel::battery_voltage;
    verdict.from = first;
    verdict.due = verdict.to = run.start;
    verdict.value = median;
    verdict.limit = limit;
    verdict.unit = "V";
    out.push_back(verdict);
  }

 private:
  struct Rest {
    double t;
    double dt;
    double volts;
  };
  std::vector<Rest> rest_;
  bool started_ = false;
};

/// long-crank and repeated-cranking.
class CrankQuestion : public Question {
 public:
  void see(const View& view) override {
    const Snapshot& s = view.now();
    const bool cranking = s.phase == TruePhase::cranking;
    if (cranking && !was_) {
      began_ = s.t - s.dt;
      cranks_.push_back(began_);
    }
    if (cranking) {
      const double length = s.t - began_;
      if (length > longest_) {
        longest_ = length;
        longest_from_ = began_;
        longest_to_ = s.t;
      }
    }
    was_ = cranking;
  }
  void answer(const View&, const TrueRun& run,
              std::vector<Verdict>& out) override {
    Verdict verdict;
    verdict.channel = Channel::engine_speed;
    if (longest_ > 10.0) {
      verdict.check = "long-crank";
      verdict.degree = longest_ > 30.0 ? Degree::urgent : Degree::attention;
      verdict.limit = longest_ > 30.0 ? 30.0 : 10.0;
      verdict.from = longest_from_;
      verdict.due = longest_from_ + verdict.limit;
      verdict.to = longest_to_;
      verdict.value = longest_;
      verdict.unit = "s";
      out.push_back(verdict);
    }
    const int n = run.attempts;
    const bool urgent = n >= 5 || (n >= 2 && run.crank_s >= 45.0);
    const bool some = n >= 3 || (n >= 2 && run.crank_s >= 30.0);
    if (!urgent && !some) return;
    verdict.check = "repeated-cranking";
    verdict.degree = urgent ? Degree::urgent : Degree::attention;
    verdict.from = run.start;
    verdict.limit = urgent ? 5.0 : 3.0;
    // By the count, or where that is not reached by the sum, at the last one.
    const auto nth =
        std::min(static_cast<std::size_t>(verdict.limit), cranks_.size());
    verdict.due = cranks_[nth - 1];
    verdict.to = cranks_.back();
    verdict.value = n;
    verdict.unit = "cranks";
    out.push_back(verdict);
  }

 private:
  std::vector<double> cranks_;
  bool was_ = false;
  double began_ = 0.0;
  double longest_ = 0.0;
  double longest_from_ = 0.0;
  double longest_to_ = 0.0;
};

/// oil-pressure-slow: from 40 % of speed to the first of 3 s above 100 kPa.
class OilSlowQuestion : public Question {
 public:
  void see(const View& view) override {
    const Snapshot& s = view.now();
    if (!view.running()) return;
    if (began_ < 0.0) began_ = s.t;
    if (there_ >= 0.0 && held_ >= 3.0) return;
    if (view.value(Channel::oil_pressure) > 100.0) {
      if (held_ == 0.0) there_ = s.t;
      held_ += s.dt;
    } else {
      held_ = 0.0;
      there_ = -1.0;
    }
    last_ = s.t;
  }
  void answer(const View&, const TrueRun& run,
              std::vector<Verdict>& out) override {
    if (began_ < 0.0 || !run.begins_in_log) return;
    const double end = there_ >= 0.0 ? there_ : last_;
    if (end - began_ <= 10.0) return;
    Verdict verdict;
    verdict.check = "oil-pressure-slow";
    verdict.degree = Degree::attention;
    verdict.channel = Channel::oil_pressure;
    verdict.from = began_;
    verdict.due = began_ + 10.0;
    verdict.to = end;
    verdict.value = end - began_;
    verdict.limit = 10.0;
    verdict.unit = "s";
    out.push_back(verdict);
  }

 private:
  double began_ = -1.0;
  double there_ = -1.0;
  double held_ = 0.0;
  double last_ = 0.0;
};

}  // namespace

void add_start_questions(const Scenario& scenario, Questions& out) {
  const double blocks = scenario.set.rating.battery_v / 12.0;
  out.push_back(std::make_unique<CrankDipQuestion>(blocks));
  out.push_back(std::make_unique<RestQuestion>());
  out.push_back(std::make_unique<CrankQuestion>());
  out.push_back(std::make_unique<OilSlowQuestion>());
}

}  // namespace telltale::host::sim
