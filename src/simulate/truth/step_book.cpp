// Changes of the settled demand within 3 s make one step.
#include "simulate/truth/step_book.hpp"

#include <algorithm>
#include <cmath>

namespace telltale::host::sim {
namespace {

constexpr double kStepPct = 10.0;
constexpr double kClusterS = 3.0;
constexpr double kResponseS = 25.0;
constexpr double kLoneS = 10.0;

}  // namespace

ClassLimits class_limits(int performance_class) {
  switch (performance_class) {
    case 1:
      return {15.0, 18.0, 10.0, 3.5};
    case 3:
      return {7.0, 10.0, 3.0, 2.0};
    default:
      return {10.0, 12.0, 5.0, 2.0};
  }
}

StepBook::StepBook(const Rating& rating) : rating_(rating) {}

void StepBook::see(const Snapshot& now, bool at_speed) {
  if (!at_speed) {
    if (was_at_speed_) close();
    was_at_speed_ = false;
    last_pct_ = 0.0;
    return;
  }
  const double pct = 100.0 * now.settled_kw / rating_.power_kw;
  if (!was_at_speed_) last_pct_ = pct;  // a log may begin under load
  was_at_speed_ = true;
  if (std::abs(pct - last_pct_) > 0.5) {
    if (!clustering_) {
      clustering_ = true;
      changed_at_ = now.t - now.dt;
      before_pct_ = last_pct_;
      greatest_pct_ = 0.0;
      changes_ = 0;
      if (responding_) finish_response();
      response_.clear();
    }
    // The step is where most of it happened.
    const double change = std::abs(pct - last_pct_);
    ++changes_;
    if (change > greatest_pct_) {
      greatest_pct_ = change;
      greatest_at_ = now.t - now.dt;
    }
    last_pct_ = pct;
  }
  const double hertz = rating_.frequency_hz;
  if (clustering_ || responding_) {
    response_.push_back({now.t, now.hertz_low / hertz, now.hertz_high / hertz,
                         value_of(now, Channel::frequency) / hertz});
  }
  if (clustering_ && now.t - changed_at_ >= kClusterS) {
    clustering_ = false;
    if (std::abs(pct - before_pct_) >= kStepPct) {
      LoadStep step;
      step.at = greatest_at_;
      step.from_pct = before_pct_;
      step.to_pct = pct;
      step.lone = changes_ == 1;
      if (!steps_.empty() && step.at - steps_.back().at < kLoneS) {
        step.lone = steps_.back().lone = false;
      }
      steps_.push_back(step);
      responding_ = true;
    } else if (!responding_) {
      response_.clear();
    }
  }
  if (responding_ && now.t - steps_.back().at >= kResponseS) finish_response();
}

// Extreme against rated; recovery is the last time outside the tolerance band
// about the frequency that it settled at.
void StepBook::finish_response() {
  responding_ = false;
  LoadStep& step = steps_.back();
  if (response_.size() < 3) {
    step.lone = false;
    return;
  }
  const bool up = step.to_pct > step.from_pct;
  double extreme = up ? 9.0 : 0.0;
  double settled = 0.0;
  int count = 0;
  const double end = response_.back().t;
  for (const Point& point : response_) {
    extreme = up ? std::min(extreme, point.low) : std::max(extreme, point.high);
    if (point.t < end - 2.0) continue;
    settled += point.mean;
    ++count;
  }
  settled /= count;
  step.deviation_pct = 100.0 * (extreme - 1.0);
  const double band =
      class_limits(rating_.performance_class).tolerance_pct / 200.0;
  step.recovery_s = 0.0;
  for (const Point& point : response_) {
    if (point.low < settled - band || point.high > settled + band) {
      step.recovery_s = point.t - step.at;
    }
  }
  // Cut short by the next step: the answer is not known.
  if (end - step.at < kLoneS) step.lone = false;
}

void StepBook::close() {
  if (responding_) finish_response();
  clustering_ = responding_ = false;
  response_.clear();
}

}  // namespace telltale::host::sim
