#include "session/load_test.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <span>

#include "telltale/condition/median.hpp"

namespace telltale::host {
namespace {

constexpr double kNone = std::numeric_limits<double>::quiet_NaN();
constexpr DurationMs kLookBack = seconds(45);
constexpr DurationMs kWindow = seconds(30);      // watched after a step
constexpr DurationMs kBandWindow = seconds(60);  // of steady running
constexpr DurationMs kSecondStep = seconds(4);
constexpr double kJudgedStep = 25.0;  // % of rating
constexpr double kLevelWidth = 5.0;   // loads this close are one level
constexpr double kLeastSpan = 40.0;   // of levels, for an acceptance sheet
constexpr std::size_t kMostLevels = 64;
constexpr std::size_t kMostSteps = 2000;
constexpr std::size_t kMostRecent = 8192;

constexpr PerformanceClass kClasses[] = {
    PerformanceClass::G1, PerformanceClass::G2, PerformanceClass::G3};

/// The best class whose limit a magnitude keeps to; "none" beyond G1.
std::string best_class(double magnitude, float ClassLimits::*limit) {
  std::string best = "none";
  for (const PerformanceClass c : kClasses) {
    if (magnitude <= std::abs(static_cast<double>(limits_of(c).*limit))) {
      best = "G" + std::to_string(static_cast<int>(c) + 1);
    }
  }
  return best;
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
  hz_ = static_cast<double>(m.profile->rating.frequency_hz);
  if (!m.at_speed() || !m[Channel::frequency].good()) {
    if (pending_ && !m.at_speed()) pending_.reset();
    window_.clear();
    return;
  }
  rated_ = rated_ || m.load_rated;
  interval_s_ = static_cast<double>(m.interval.ms) / 1000.0;
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
  if (m.step_began && !pending_ && steps_.size() < kMostSteps) {
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
  auto found =
      std::find_if(levels_.begin(), levels_.end(), [&](const Level& level) {
        return std::abs(level.load_pct - m.load_pct) <= kLevelWidth;
      });
  if (found == levels_.end()) {
    if (levels_.size() == kMostLevels) return;
    levels_.push_back({m.load_pct, 0, 0, 0, 0});
    found = levels_.end() - 1;
  }
  Level& level = *found;
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
    const std::span<double> view(window_);
    const double low = quantile_in_place(view, 0.005);
    const double high = quantile_in_place(view, 0.995);
    widest_band_hz_ = std::max(widest_band_hz_, high - low);
  }
  window_.clear();
}

void LoadTest::close_step(TimeMs until, const Moment<double>& m, bool alone) {
  const Pending start = *pending_;
  pending_.reset();
  Step step;
  step.alone = alone;
  step.interval_s = interval_s_;
  step.report.at = trail_->place(start.at);
  step.report.from_pct = start.from_pct;
  step.report.to_pct = m.step_began ? m.step_from_pct : m.load_pct;
  step.size_pct = step.report.to_pct - step.report.from_pct;
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
    const double band = static_cast<double>(limits.tolerance) * hz_ / 200.0;
    const auto f = step_response<double>(hz, hz_, start.before_hz, band, on, 5);
    step.hz[c] = {f.deviation_pct, f.recovery()};
    if (c == static_cast<std::size_t>(m.profile->rating.performance)) {
      step.report.frequency_dip_pct =
          100.0 * std::abs(f.extreme - start.before_hz) / hz_;
      if (std::isfinite(f.recovery())) step.report.recovery_s = f.recovery();
      step.report.observable =
          interval_s_ * 5.0 <= static_cast<double>(limits.recovery_s) + 1e-9;
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
  steps_.push_back(step);
}

void LoadTest::add_droop(const Profile& profile, Quantities& out) const {
  double n = 0, load = 0, hz = 0, ll = 0, lf = 0, low = 1e9, high = -1e9;
  for (const Level& level : levels_) {
    if (level.n < 10) continue;
    n += 1;
    load += level.load_pct;
    hz += level.hz;
    low = std::min(low, level.load_pct);
    high = std::max(high, level.load_pct);
  }
  if (n < 2 || high - low < kLeastSpan) return;
  load /= n;
  hz /= n;
  for (const Level& level : levels_) {
    if (level.n < 10) continue;
    ll += (level.load_pct - load) * (level.load_pct - load);
    lf += (level.load_pct - load) * (level.hz - hz);
  }
  const double droop = -100.0 * (lf / ll) * 100.0 / hz_;
  const double rated = static_cast<double>(profile.rating.power_kw);
  out.push_back(
      {"frequency_droop", droop, "%", best_class(droop, &ClassLimits::droop),
       std::isfinite(rated) || rated_ ? Bound::exact : Bound::not_observable});
}

void LoadTest::add_band(Quantities& out) const {
  if (widest_band_hz_ < 0.0) return;
  const double band = 100.0 * widest_band_hz_ / hz_;
  out.push_back({"frequency_band", band, "%",
                 best_class(band, &ClassLimits::band),
                 interval_s_ <= 0.5 ? Bound::exact : Bound::lower});
}

void LoadTest::add_voltage_range(const Profile& profile,
                                 Quantities& out) const {
  const double nominal = nominal_volts(profile);
  double low = 1e9, high = -1e9;
  for (const Level& level : levels_) {
    if (level.volts_n < 10) continue;
    low = std::min(low, level.volts);
    high = std::max(high, level.volts);
  }
  if (high < low || !(nominal > 0.0)) return;
  const double deviation = 100.0 * (high - low) / (2.0 * nominal);
  out.push_back({"voltage_deviation", deviation, "%",
                 best_class(deviation, &ClassLimits::voltage_deviation),
                 Bound::exact});
}

void LoadTest::add_steps(bool load_on, Quantities& out) const {
  double worst_hz = 0, worst_v = 0;
  double recovery[3] = {0, 0, 0};
  double v_recovery[3] = {0, 0, 0};
  int n = 0;
  int n_volts = 0;
  double interval = 0;
  for (const Step& step : steps_) {
    const bool on = step.size_pct > 0.0;
    if (on != load_on || !step.alone || std::abs(step.size_pct) < kJudgedStep) {
      continue;
    }
    // The class limits do not cover a step from nothing to full load.
    if (on && step.size_pct > 80.0) continue;
    ++n;
    interval = std::max(interval, step.interval_s);
    const auto further = [load_on](double& worst, double value) {
      worst = load_on ? std::min(worst, value) : std::max(worst, value);
    };
    further(worst_hz, step.hz[0].deviation_pct);
    if (step.has_volts) {
      ++n_volts;
      further(worst_v, step.volts[0].deviation_pct);
    }
    for (std::size_t c = 0; c < 3; ++c) {
      const auto longer = [](double& longest, double value) {
        if (!std::isfinite(value)) value = 1e9;
        longest = std::max(longest, value);
      };
      longer(recovery[c], step.hz[c].recovery_s);
      if (step.has_volts) longer(v_recovery[c], step.volts[c].recovery_s);
    }
  }
  if (n == 0) return;
  const std::string side = load_on ? "dip" : "rise";
  const std::string when = load_on ? "load_on" : "load_off";
  const auto deviation = [&](const std::string& name, double value,
                             float ClassLimits::*limit,
                             float ClassLimits::*recovery_limit) {
    const std::string reached = best_class(std::abs(value), limit);
    const PerformanceClass c = reached == "G3"   ? PerformanceClass::G3
                               : reached == "G2" ? PerformanceClass::G2
                                                 : PerformanceClass::G1;
    const double allowed = static_cast<double>(limits_of(c).*recovery_limit);
    out.push_back(
        {name, value, "%", reached,
         interval * 20.0 <= allowed + 1e-9 ? Bound::exact : Bound::lower});
  };
  const auto recover = [&](const std::string& name, const double(&values)[3],
                           float ClassLimits::*limit) {
    std::string reached = "none";
    double value = values[0];
    double allowed = static_cast<double>(kClassLimits[0].*limit);
    for (std::size_t c = 0; c < 3; ++c) {
      const double most = static_cast<double>(kClassLimits[c].*limit);
      if (values[c] > most) break;
      reached = "G" + std::to_string(c + 1);
      value = values[c];
      allowed = most;
    }
    const bool seen = interval * 5.0 <= allowed + 1e-9;
    const bool back = value < 1e8;
    out.push_back({name, seen && back ? value : kNone, "s", seen ? reached : "",
                   !seen  ? Bound::not_observable
                   : back ? Bound::exact
                          : Bound::lower});
  };
  deviation("frequency_" + side, worst_hz,
            load_on ? &ClassLimits::dip : &ClassLimits::rise,
            &ClassLimits::recovery_s);
  recover("frequency_recovery_" + when, recovery, &ClassLimits::recovery_s);
  if (n_volts == 0) return;
  deviation("voltage_" + side, worst_v,
            load_on ? &ClassLimits::voltage_dip : &ClassLimits::voltage_rise,
            &ClassLimits::voltage_recovery_s);
  recover("voltage_recovery_" + when, v_recovery,
          &ClassLimits::voltage_recovery_s);
}

void LoadTest::finish(const Profile& profile, RunReport& out) {
  for (const Step& step : steps_) out.load_steps.push_back(step.report);
  const bool tested =
      std::any_of(steps_.begin(), steps_.end(), [](const Step& step) {
        return step.alone && std::abs(step.size_pct) >= kJudgedStep;
      });
  const auto [low, high] = std::minmax_element(
      levels_.begin(), levels_.end(),
      [](const Level& a, const Level& b) { return a.load_pct < b.load_pct; });
  const bool covered = low != levels_.end() && levels_.size() >= 3 &&
                       high->load_pct - low->load_pct >= kLeastSpan;
  if (rated_ && tested && covered && std::isfinite(hz_)) {
    Acceptance sheet;
    sheet.held_to = profile.rating.performance;
    sheet.interval_s = interval_s_;
    add_droop(profile, sheet.quantities);
    add_band(sheet.quantities);
    add_steps(true, sheet.quantities);
    add_steps(false, sheet.quantities);
    add_voltage_range(profile, sheet.quantities);
    out.acceptance = std::move(sheet);
  }
  *this = LoadTest(*trail_);
}

}  // namespace telltale::host
