#include "session/load_test.hpp"

#include <algorithm>
#include <cmath>
#include <cstdint>
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

double volts_of(const JudgedScan& scan) {
  for (const Channel channel : {Channel::voltage_l1, Channel::voltage_line}) {
    if (scan.is_good(channel)) return scan[channel];
  }
  return kNone;
}

double seconds_between(TimeMs from, TimeMs to) {
  return static_cast<double>((to - from).ms) / 1000.0;
}

}  // namespace

double LoadTest::nominal_volts() const {
  return static_cast<double>(volts_channel_ == Channel::voltage_l1
                                 ? profile_->rating.leg_voltage_v()
                                 : profile_->rating.voltage_v);
}

void LoadTest::step(const JudgedScan& scan, const ScanNote& note) {
  if (!is_at_speed(scan.phase) || !scan.is_good(Channel::frequency)) {
    if (!is_at_speed(scan.phase)) pending_.reset();
    window_.clear();
    return;
  }
  seen_.rated = seen_.rated || scan.load_rated;
  seen_.interval_s = static_cast<double>(scan.interval_ms) / 1000.0;
  if (scan.is_good(Channel::voltage_l1)) {
    volts_channel_ = Channel::voltage_l1;
  } else if (volts_channel_ == Channel::none &&
             scan.is_good(Channel::voltage_line)) {
    volts_channel_ = Channel::voltage_line;
  }
  if (pending_) {
    const bool second = scan.step_began && scan.at - pending_->at > kSecondStep;
    if (second) {
      close_step(recent_.empty() ? scan.at : recent_.back().at,
                 note.step_from_pct, false);
    } else if (scan.at - pending_->at >= kWindow) {
      close_step(scan.at, scan.step_began ? note.step_from_pct : scan.load_pct,
                 true);
    }
  }
  if (scan.step_began && !pending_ && seen_.steps.size() < kMostSteps) {
    begin_step(scan, note);
  }
  remember(scan);
  if (scan.steady) {
    follow_levels(scan);
    follow_band(scan);
  } else {
    window_.clear();
  }
}

void LoadTest::begin_step(const JudgedScan& scan, const ScanNote& note) {
  Pending next{scan.at, note.place, note.step_from_pct, 0.0, 0.0};
  double n = 0.0;
  double volts_n = 0.0;
  for (const Sample& s : recent_) {
    if (scan.at - s.at > seconds(6)) continue;
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
  if (n == 0.0) return;
  next.before_hz /= n;
  next.before_volts = volts_n > 0.0 ? next.before_volts / volts_n : kNone;
  pending_ = next;
}

void LoadTest::remember(const JudgedScan& scan) {
  recent_.push_back({scan.at, scan[Channel::frequency], volts_of(scan)});
  const bool long_ago = scan.at - recent_.front().at > kLookBack + kWindow;
  if (long_ago || recent_.size() > kMostRecent) {
    const auto keep = std::find_if(
        recent_.begin(), recent_.end(),
        [&](const Sample& s) { return scan.at - s.at <= kLookBack; });
    recent_.erase(recent_.begin(), std::max(keep, recent_.begin() + 1));
  }
}

void LoadTest::follow_levels(const JudgedScan& scan) {
  if (!std::isfinite(scan.load_pct)) return;
  auto found = std::find_if(
      seen_.levels.begin(), seen_.levels.end(), [&](const TestLevel& level) {
        return std::abs(level.load_pct - scan.load_pct) <= kLevelWidth;
      });
  if (found == seen_.levels.end()) {
    if (seen_.levels.size() == kMostLevels) return;
    seen_.levels.push_back({scan.load_pct, 0, 0, 0, 0});
    found = seen_.levels.end() - 1;
  }
  TestLevel& level = *found;
  level.n += 1.0;
  level.load_pct += (scan.load_pct - level.load_pct) / level.n;
  level.hz += (scan[Channel::frequency] - level.hz) / level.n;
  const double volts = volts_of(scan);
  if (std::isfinite(volts)) {
    level.volts_n += 1.0;
    level.volts += (volts - level.volts) / level.volts_n;
  }
}

void LoadTest::follow_band(const JudgedScan& scan) {
  if (window_.empty()) window_from_ = scan.at;
  window_.push_back(scan[Channel::frequency]);
  if (scan.at - window_from_ < kBandWindow && window_.size() < kMostRecent) {
    return;
  }
  if (window_.size() >= 10) {
    seen_.widest_band_hz = std::max(seen_.widest_band_hz, band_of(window_));
  }
  window_.clear();
}

void LoadTest::close_step(TimeMs until, double to_pct, bool alone) {
  const Pending start = *pending_;
  pending_.reset();
  TestStep step;
  step.alone = alone;
  step.interval_s = seen_.interval_s;
  step.report.logged = start.place.logged;
  step.report.line = static_cast<std::uint32_t>(
      std::min<std::uint64_t>(start.place.line, UINT32_MAX));
  step.report.from_pct = static_cast<float>(start.from_pct);
  step.report.to_pct = static_cast<float>(to_pct);
  step.size_pct = to_pct - start.from_pct;
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
  const auto nominal_hz = static_cast<double>(profile_->rating.frequency_hz);
  const double nominal_v = nominal_volts();
  step.has_volts = volts.size() >= 3 && nominal_v > 0.0;
  for (std::size_t c = 0; c < 3; ++c) {
    const ClassLimits& limits = limits_of(kClasses[c]);
    const double band =
        static_cast<double>(limits.tolerance) * nominal_hz / 200.0;
    const auto f =
        step_response<double>(hz, nominal_hz, start.before_hz, band, on, 5);
    step.hz[c] = {f.deviation_pct, f.recovery()};
    if (c == static_cast<std::size_t>(profile_->rating.performance)) {
      step.report.frequency_dip_pct = static_cast<float>(
          100.0 * std::abs(f.extreme - start.before_hz) / nominal_hz);
      step.report.observable = seen_.interval_s * 5.0 <=
                               static_cast<double>(limits.recovery_s) + 1e-9;
      if (step.report.observable && std::isfinite(f.recovery())) {
        step.report.recovery_s = static_cast<float>(f.recovery());
      }
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

void LoadTest::finish(RunRecord& out) {
  out.load_steps.reserve(seen_.steps.size());
  for (const TestStep& step : seen_.steps) {
    out.load_steps.push_back(step.report);
  }
  seen_.hz = static_cast<double>(profile_->rating.frequency_hz);
  seen_.nominal_v = nominal_volts();
  out.acceptance = acceptance_of(seen_, profile_->rating.performance);
  *this = LoadTest(*profile_);
}

}  // namespace telltale::host
