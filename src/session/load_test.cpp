#include "session/load_test.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <span>

#include "telltale/condition/median.hpp"
#include "telltale/condition/outer_pairs.hpp"
#include "telltale/condition/performance_class.hpp"
#include "telltale/condition/step_response.hpp"

namespace telltale::host {
namespace {

constexpr double kNone = std::numeric_limits<double>::quiet_NaN();
constexpr DurationMs kLookBack = seconds(45);
constexpr DurationMs kWindow = seconds(30);      // watched after a step
constexpr DurationMs kBandWindow = seconds(60);  // of steady running
constexpr DurationMs kSecondStep = seconds(4);
constexpr double kLevelWidth = 5.0;  // loads this close are one level
constexpr std::size_t kMostLevels = 64;
constexpr std::size_t kMostSteps = 2000;
constexpr std::size_t kMostRecent = 8192;

constexpr PerformanceClass kClasses[] = {
    PerformanceClass::G1, PerformanceClass::G2, PerformanceClass::G3};

/// From the 0.5th to the 99.5th percentile. REQUIRES: two readings or more
double band_of(std::vector<double>& hz) {
  constexpr double kBeyond = 0.005;
  const auto last = static_cast<double>(hz.size() - 1);
  if (kBeyond * last < 1.0) {  // between the outermost two: no need to sort
    OuterPairs<double> ends;
    for (const double x : hz) ends.add(x);
    return ends.upper(1.0 - kBeyond) - ends.lower(kBeyond);
  }
  const std::span<double> view(hz);
  const double low = quantile_in_place(view, kBeyond);
  return quantile_in_place(view, 1.0 - kBeyond) - low;
}

double seconds_between(TimeMs from, TimeMs to) {
  return static_cast<double>((to - from).ms) / 1000.0;
}

}  // namespace

double LoadTest::volts_of(const Moment<double>& m) const {
  for (const Channel channel : {Channel::voltage_l1, Channel::voltage_line}) {
    if (m[channel].good()) return m[channel].value;
  }
  return kNone;
}

double LoadTest::nominal_volts(const Profile& profile) const {
  return static_cast<double>(volts_channel_ == Channel::voltage_l1
                                 ? profile.rating.leg_voltage_v()
                                 : profile.rating.voltage_v);
}

void LoadTest::step(const Moment<double>& m) {
  if (!m.in_run()) return;
  seen_.hz = static_cast<double>(m.profile->rating.frequency_hz);
  if (!m.at_speed() || !m[Channel::frequency].good()) {
    if (pending_ && !m.at_speed()) pending_.reset();
    window_.clear();
    return;
  }
  seen_.rated = seen_.rated || m.load_rated;
  seen_.interval_s = static_cast<double>(m.interval.ms) / 1000.0;
  if (m[Channel::voltage_l1].good()) {
    volts_channel_ = Channel::voltage_l1;
  } else if (volts_channel_ == Channel::none &&
             m[Channel::voltage_line].good()) {
    volts_channel_ = Channel::voltage_line;
  }
  if (pending_) {
    const bool second = m.step_began && m.at - pending_->at > kSecondStep;
    if (second) {
      close_step(recent_.empty() ? m.at : recent_.back().at, m, false);
    } else if (m.at - pending_->at >= kWindow) {
      close_step(m.at, m, true);
    }
  }
  if (m.step_began && !pending_ && seen_.steps.size() < kMostSteps) {
    Pending next{m.at, m.step_from_pct, 0.0, 0.0};
    double n = 0.0;
    double volts_n = 0.0;
    for (const Sample& s : recent_) {
      if (m.at - s.at > seconds(6)) continue;
      next.before_hz += s.hz;
      n += 1.0;
      if (std::isfinite(s.volts)) {
        next.before_volts += s.volts;
        volts_n += 1.0;
      }
    }
    if (n == 0.0 && !recent_.empty()) {
      next.before_hz = recent_.back().hz;
      next.before_volts = recent_.back().volts;
      n = volts_n = 1.0;
    }
    if (n > 0.0) {
      next.before_hz /= n;
      next.before_volts = volts_n > 0.0 ? next.before_volts / volts_n : kNone;
      pending_ = next;
    }
  }
  remember(m);
  if (m.steady) {
    follow_levels(m);
    follow_band(m);
  } else {
    window_.clear();
  }
}

void LoadTest::remember(const Moment<double>& m) {
  recent_.push_back({m.at, m[Channel::frequency].value, volts_of(m)});
  const bool long_ago = m.at - recent_.front().at > kLookBack + kWindow;
  if (long_ago || recent_.size() > kMostRecent) {
    const auto keep =
        std::find_if(recent_.begin(), recent_.end(),
                     [&](const Sample& s) { return m.at - s.at <= kLookBack; });
    recent_.erase(recent_.begin(), std::max(keep, recent_.begin() + 1));
  }
}

void LoadTest::follow_levels(const Moment<double>& m) {
  if (!std::isfinite(m.load_pct)) return;
  auto found = std::find_if(
      seen_.levels.begin(), seen_.levels.end(), [&](const TestLevel& level) {
        return std::abs(level.load_pct - m.load_pct) <= kLevelWidth;
      });
  if (found == seen_.levels.end()) {
    if (seen_.levels.size() == kMostLevels) return;
    seen_.levels.push_back({m.load_pct, 0, 0, 0, 0});
    found = seen_.levels.end() - 1;
  }
  TestLevel& level = *found;
  level.n += 1.0;
  level.load_pct += (m.load_pct - level.load_pct) / level.n;
  level.hz += (m[Channel::frequency].value - level.hz) / level.n;
  const double volts = volts_of(m);
  if (std::isfinite(volts)) {
    level.volts_n += 1.0;
    level.volts += (volts - level.volts) / level.volts_n;
  }
}

void LoadTest::follow_band(const Moment<double>& m) {
  if (window_.empty()) window_from_ = m.at;
  window_.push_back(m[Channel::frequency].value);
  if (m.at - window_from_ < kBandWindow && window_.size() < kMostRecent) {
    return;
  }
  if (window_.size() >= 10) {
    seen_.widest_band_hz = std::max(seen_.widest_band_hz, band_of(window_));
  }
  window_.clear();
}

void LoadTest::close_step(TimeMs until, const Moment<double>& m, bool alone) {
  const Pending start = *pending_;
  pending_.reset();
  TestStep step;
  step.alone = alone;
  step.interval_s = seen_.interval_s;
  step.report.at = trail_->place(start.at);
  step.report.from_pct = start.from_pct;
  step.report.to_pct = m.step_began ? m.step_from_pct : m.load_pct;
  step.size_pct = step.report.to_pct - step.report.from_pct;
  // A load that went and came back at once was no step to another.
  if (std::abs(step.size_pct) < kLevelWidth) return;
  const bool on = step.size_pct > 0.0;
  std::vector<StepSample<double>> hz;
  std::vector<StepSample<double>> volts;
  const Sample* before = nullptr;
  for (const Sample& s : recent_) {
    if (s.at < start.at) {
      before = &s;
      continue;
    }
    if (s.at > until) break;
    if (hz.empty() && before != nullptr) {
      hz.push_back({seconds_between(start.at, before->at), before->hz});
      if (std::isfinite(before->volts)) {
        volts.push_back({seconds_between(start.at, before->at), before->volts});
      }
    }
    hz.push_back({seconds_between(start.at, s.at), s.hz});
    if (std::isfinite(s.volts)) {
      volts.push_back({seconds_between(start.at, s.at), s.volts});
    }
  }
  if (hz.size() < 3) return;
  const double nominal_v = nominal_volts(*m.profile);
  step.has_volts = volts.size() >= 3 && nominal_v > 0.0;
  for (std::size_t c = 0; c < 3; ++c) {
    const ClassLimits& limits = limits_of(kClasses[c]);
    const double band =
        static_cast<double>(limits.tolerance) * seen_.hz / 200.0;
    const auto f =
        step_response<double>(hz, seen_.hz, start.before_hz, band, on, 5);
    step.hz[c] = {f.deviation_pct, f.recovery()};
    if (c == static_cast<std::size_t>(m.profile->rating.performance)) {
      step.report.frequency_dip_pct =
          100.0 * std::abs(f.extreme - start.before_hz) / seen_.hz;
      if (std::isfinite(f.recovery())) step.report.recovery_s = f.recovery();
      step.report.observable = seen_.interval_s * 5.0 <=
                               static_cast<double>(limits.recovery_s) + 1e-9;
      if (!step.report.observable) step.report.recovery_s.reset();
    }
    if (!step.has_volts) continue;
    const double v_band =
        static_cast<double>(limits.voltage_deviation) * nominal_v / 100.0;
    const auto v = step_response<double>(volts, nominal_v, start.before_volts,
                                         v_band, on, 5);
    // From the load change itself, which lies after the sample before it.
    step.volts[c] = {v.deviation_pct,
                     v.never_left ? 0.0 : v.reenters - volts.front().t};
  }
  seen_.steps.push_back(step);
}

void LoadTest::finish(const Profile& profile, RunReport& out) {
  for (const TestStep& step : seen_.steps)
    out.load_steps.push_back(step.report);
  seen_.nominal_v = nominal_volts(profile);
  out.acceptance = acceptance_of(seen_, profile.rating.performance);
  *this = LoadTest(*trail_);
}

}  // namespace telltale::host
