// Questions about the governor: droop, and the answer to load steps.
#include <algorithm>
#include <cmath>

#include "simulate/truth/judge.hpp"
#include "simulate/truth/step_book.hpp"

namespace telltale::host::sim {
namespace {

/// frequency-droop: the true droop, where the run covers 40 % of rating.
class DroopQuestion : public Question {
 public:
  void see(const View& view) override {
    if (!view.steady()) return;
    const Snapshot& s = view.now();
    low_ = std::min(low_, s.load_pct);
    high_ = std::max(high_, s.load_pct);
    if (s.droop_pct > worst_ + 1e-9) {
      worst_ = s.droop_pct;
      from_ = s.t;
    }
    last_ = s.t;
  }
  void answer(const View& view, const TrueRun&,
              std::vector<Verdict>& out) override {
    constexpr double kDroop[] = {8.0, 5.0, 3.0};
    const double limit = kDroop[view.rating().performance_class - 1];
    if (high_ - low_ < 40.0 || worst_ <= limit) return;
    Verdict verdict;
    verdict.check = "frequency-droop";
    verdict.degree = Degree::attention;
    verdict.channel = Channel::frequency;
    verdict.from = from_;
    verdict.due = verdict.to = last_;
    verdict.value = worst_;
    verdict.limit = limit;
    verdict.unit = "%";
    out.push_back(verdict);
  }

 private:
  double low_ = 1e9;
  double high_ = -1e9;
  double worst_ = 0.0;
  double from_ = 0.0;
  double last_ = 0.0;
};

/// load-step-response: steps of 25 % of rating or more against the class.
class StepQuestion : public Question {
 public:
  void see(const View&) override {}
  void answer(const View& view, const TrueRun& run,
              std::vector<Verdict>& out) override {
    const ClassLimits limits = class_limits(view.rating().performance_class);
    Verdict verdict;
    verdict.check = "load-step-response";
    verdict.channel = Channel::frequency;
    for (const LoadStep& step : run.steps) {
      if (!step.lone || std::abs(step.to_pct - step.from_pct) < 25.0) continue;
      const bool up = step.to_pct > step.from_pct;
      const double allowed = up ? -limits.dip_pct : limits.rise_pct;
      const bool deep =
          up ? step.deviation_pct < allowed : step.deviation_pct > allowed;
      const bool slow = step.recovery_s > limits.recovery_s;
      if (!deep && !slow) continue;
      if (verdict.degree == Degree::none) {
        verdict.degree = Degree::attention;
        verdict.from = step.at;
        verdict.due = step.at + limits.recovery_s;
      }
      verdict.to = step.at + step.recovery_s;
      // Recovery is the figure that a slow governor misses first.
      const double value = slow ? step.recovery_s : step.deviation_pct;
      if (std::isnan(verdict.value) ||
          std::abs(value) > std::abs(verdict.value)) {
        verdict.value = value;
        verdict.limit = slow ? limits.recovery_s : allowed;
        verdict.unit = slow ? "s" : "%";
      }
    }
    if (verdict.degree != Degree::none) out.push_back(verdict);
  }
};

}  // namespace

void add_speed_questions(const Scenario&, Questions& out) {
  out.push_back(std::make_unique<DroopQuestion>());
  out.push_back(std::make_unique<StepQuestion>());
}

}  // namespace telltale::host::sim
