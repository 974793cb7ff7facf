// Questions about how the set was loaded.
#include <algorithm>
#include <array>
#include <cmath>

#include "simulate/truth/judge.hpp"
#include "simulate/truth/watch.hpp"

namespace telltale::host::sim {
namespace {

/// Rolling means of power, or of a leg's current, against the rating.
class OverloadQuestion : public Question {
 public:
  explicit OverloadQuestion(int leg)
      : leg_(leg),
        spans_{Span(900.0, {Degree::attention, 100.0, 0.0}),
               Span(60.0, {Degree::attention, 110.0, 0.0}),
               Span(30.0, {Degree::urgent, 120.0, 0.0})} {}

  void see(const View& view) override {
    const double t = view.now().t;
    const double dt = view.now().dt;
    for (Span& span : spans_) {
      if (!view.running()) {
        span.mean.clear();
        continue;
      }
      span.mean.add(t, dt,
                    leg_ < 0 ? view.now().load_pct
                             : view.amps_pct(static_cast<std::size_t>(leg_)));
      const double mean = span.mean.mean();
      if (std::isnan(mean) || mean <= span.level.limit) continue;
      if (span.from < 0.0) {
        span.from = t - span.seconds;
        span.due = t;
      }
      span.to = t;
      span.worst = std::max(span.worst, mean);
    }
  }

  void answer(const View&, const TrueRun&, std::vector<Verdict>& out) override {
    constexpr Channel kAmps[] = {Channel::current_l1, Channel::current_l2,
                                 Channel::current_l3};
    const Span* best = nullptr;
    for (const Span& span : spans_) {
      if (span.from < 0.0) continue;
      if (best == nullptr || span.level.degree > best->level.degree ||
          (span.level.degree == best->level.degree && span.due < best->due)) {
        best = &span;
      }
    }
    if (best == nullptr) return;
    Verdict verdict;
    verdict.check = "overload";
    verdict.degree = best->level.degree;
    verdict.channel = leg_ < 0 ? Channel::power : kAmps[leg_];
    verdict.from = best->from;
    verdict.due = best->due;
    verdict.to = best->to;
    verdict.value = best->worst;
    verdict.limit = best->level.limit;
    verdict.unit = "% of rating";
    out.push_back(verdict);
  }

 private:
  struct Span {
    Span(double s, Level l) : seconds(s), mean(s), level(l) {}
    double seconds;
    RollingMean mean;
    Level level;
    double from = -1.0;
    double due = 0.0;
    double to = 0.0;
    double worst = 0.0;
  };
  int leg_;  // below 0: power
  std::array<Span, 3> spans_;
};

/// Share of running time below 30 % of rating.
class LightLoadQuestion : public Question {
 public:
  void see(const View& view) override {
    if (!view.running()) return;
    const double t = view.now().t;
    if (first_ < 0.0) first_ = t;
    last_ = t;
    running_s_ += view.now().dt;
    if (view.now().load_pct < 30.0) light_s_ += view.now().dt;
  }

  void answer(const View&, const TrueRun&, std::vector<Verdict>& out) override {
    if (running_s_ <= 3600.0) return;
    const double share = 100.0 * light_s_ / running_s_;
    Verdict verdict;
    verdict.check = "light-load";
    verdict.channel = Channel::power;
    verdict.from = first_;
    verdict.due = verdict.to = last_;
    verdict.value = share;
    verdict.unit = "% of running time";
    if (share > 80.0 && running_s_ > 3.0 * 3600.0) {
      verdict.degree = Degree::attention;
      verdict.limit = 80.0;
    } else if (share > 50.0) {
      verdict.degree = Degree::note;
      verdict.limit = 50.0;
    } else {
      return;
    }
    out.push_back(verdict);
  }

 private:
  double first_ = -1.0;
  double last_ = 0.0;
  double running_s_ = 0.0;
  double light_s_ = 0.0;
};

}  // namespace

void add_load_questions(const Scenario& scenario, Questions& out) {
  out.push_back(std::make_unique<OverloadQuestion>(-1));
  for (int leg = 0; leg < scenario.set.rating.legs; ++leg) {
    out.push_back(std::make_unique<OverloadQuestion>(leg));
  }
  out.push_back(std::make_unique<LightLoadQuestion>());
}

}  // namespace telltale::host::sim
