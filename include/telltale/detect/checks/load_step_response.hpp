// load-step-response: frequency deviation and recovery after one load step.
#pragma once

#include <array>
#include <cmath>
#include <span>

#include "telltale/base/box.hpp"
#include "telltale/base/compact.hpp"
#include "telltale/base/static_vector.hpp"
#include "telltale/condition/performance_class.hpp"
#include "telltale/condition/step_response.hpp"
#include "telltale/detect/check.hpp"

namespace telltale {

template <std::floating_point R>
class LoadStepResponse {
 public:
  static constexpr CheckInfo info{
      .id = 7,
      .slug = "load-step-response",
      .title = "Slow or deep answer to a load step",
      .needs = bit(Channel::frequency),
      .source =
          "ISO 8528-5 transient frequency deviation and recovery time of "
          "the class held to",
      .details = {{{"load before", Unit::pct},
                   {"load after", Unit::pct},
                   {"deviation", Unit::pct},
                   {"recovery", Unit::s}}}};
  static constexpr When when{.phases = kAnyPhase};
  static constexpr Advice advice{
      .summary =
          "After a load step from {d0} to {d1} frequency took {value} "
          "(limit {limit}): deviation {d2}, recovery {d3}",
      .causes = {"governor sluggish: stiff linkage, damping or gain out of "
                 "adjustment",
                 "engine short of power: fuel filter, air filter, "
                 "turbocharger",
                 "load steps larger than the set is made for",
                 "worn injectors or low compression"},
      .next = {"repeat one clean step with a known load and watch the meter",
               "check linkage and actuator for free, quick movement",
               "check fuel supply and air intake",
               "start the largest motor first, with little else on"},
      .cautions = caution::kShock | caution::kRotating};
  static constexpr Explanation explanation{
      .sees =
          "Frequency for 20 s after one load step of 25 % of rating or "
          "more out of settled running.",
      .decides =
          "Deviation is the extreme against rated frequency; recovery "
          "runs from leaving the band to the last re-entry into it "
          "about the new steady frequency. Recovery is judged when the "
          "interval is at most a fifth of the class's recovery time; "
          "deviation from slower samples is a lower bound and counts "
          "only when even that is beyond the class.",
      .blind =
          "Without rating or load; when a second step follows within "
          "20 s; when a boost stage drove volts and frequency up. "
          "Recovery also while the frequency hunts.",
      .fooled =
          "Steps from no load to full load, which the class limits do "
          "not cover: they count here only as far as 80 % of rating."};

  /// The deviation limit for load on, percent of rated (negative).
  static constexpr Limits limits(const Profile& profile) {
    const ClassLimits& c = limits_of(profile.rating.performance);
    return with_overrides(
        {.attention = level(c.dip, 0), .side = Side::below, .unit = Unit::pct},
        profile, info.id);
  }
  void configure(const Profile& profile) {
    hz_ = static_cast<R>(profile.rating.frequency_hz);
  }

  bool step(const Moment<R>& m, Ledger<R>& ledger) {
    if (!(hz_ == hz_)) return blinded(Blind::no_nominal);
    if (!m.load_rated) return blinded(Blind::no_rating);
    const auto& hz = m[Channel::frequency];
    if (!hz.good() || !m.at_speed()) {
      active_ = false;
      return false;
    }
    bool judged = false;
    if (m.step_began) {
      active_ = settled_;
      begin(m);
    }
    if (active_) {
      follow(m, hz.value);
      if (m.at - began_ >= kWindow) {
        active_ = false;
        judged = judge(m, ledger);
      }
    }
    settled_ = m.steady;
    if (m.steady) {
      before_ += R(0.2) * (hz.value - before_);
      swing_ += R(0.1) * (std::abs(hz.value - before_) - swing_);
    } else if (!active_) {
      before_ = hz.value;
    }
    last_ = {m.at, hz.value};
    return judged;
  }
  void reset() {
    active_ = settled_ = false;
    swing_ = R(0);
    worst_ratio_ = R(0);
    blind_ = Blind::no_step;
  }
  [[nodiscard]] Blind blind() const { return blind_; }

 private:
  static constexpr SpanOf<R> kWindow = seconds(20);
  static constexpr R kLeastStep = R(25);
  static constexpr R kLargestStep = R(80);
  static constexpr R kBand = R(0.05);  // permanent band of IACS UR E5
  /// Over 20 s; quicker sampling is thinned, on the box from 2 Hz up.
  static constexpr std::size_t kKept = room<R>(64, 44);
  struct SecondsRange {  // what lies longer back counts as 33 s
    static constexpr Fixed16::Scale kScale{-33.0F, 0.001F};
  };
  struct Sample {
    Compact<R, SecondsRange> t;  // since the step
    Compact<R, HertzRange> hz;
  };
  struct Past {
    TimeOf<R> at = kNoTime;
    R hz = R(0);
  };

  bool blinded(Blind why) {
    blind_ = why;
    return false;
  }
  void begin(const Moment<R>& m) {
    began_ = m.at;
    from_ = m.step_from_pct;
    before_at_step_ = before_;
    samples_.clear();
    if (is_set(last_.at)) {
      samples_.push_back({seconds_since(last_.at), last_.hz});
    }
  }
  [[nodiscard]] R seconds_since(TimeOf<R> at) const {
    return in_ms<R>(at - began_) * R(0.001);
  }
  void follow(const Moment<R>& m, R hz) {
    // A boost stage or a second step makes this one no measure.
    const bool second = is_set(m.step_at) && m.step_at - began_ > seconds(5);
    if (m.over_excited || second) {
      active_ = false;
      return;
    }
    // Quick sampling: dense at first, thinned later; the extreme is kept.
    const R t = seconds_since(m.at);
    const bool room = samples_.size() + 1 < kKept;
    const R spacing = R(20) / static_cast<R>(kKept - 2);
    const bool due =
        samples_.empty() || t - samples_.back().t >= spacing * R(0.999);
    if (room && due) {
      samples_.push_back({t, hz});
    } else if (!samples_.empty() &&
               std::abs(hz - before_at_step_) >
                   std::abs(samples_.back().hz - before_at_step_)) {
      samples_.back().hz = hz;
    }
    to_ = m.load_pct;
  }

  [[gnu::noinline]] bool judge(const Moment<R>& m, Ledger<R>& ledger) {
    const R size = to_ - from_;
    if (!(std::abs(size) >= kLeastStep)) return false;
    // A set that stood off its band before the step is judged for that.
    if (!(std::abs(before_at_step_ / hz_ - R(1)) < kBand)) return false;
    const bool on = size > R(0);
    ClassLimits bounds = limits_of(m.profile->rating.performance);
    bounds.dip = limits(*m.profile).attention.limit;
    if (on && size > kLargestStep) return blinded(Blind::no_step);
    const R half_band = static_cast<R>(bounds.tolerance) * hz_ / R(200);
    std::array<StepSample<R>, kKept> unpacked;
    for (std::size_t i = 0; i < samples_.size(); ++i) {
      unpacked[i] = {samples_[i].t, samples_[i].hz};
    }
    const auto answer = step_response<R>(
        std::span<const StepSample<R>>(unpacked.data(), samples_.size()), hz_,
        before_at_step_, half_band, on, R(5));
    const R limit = static_cast<R>(on ? bounds.dip : bounds.rise);
    const R deviation_ratio = answer.deviation_pct / limit;
    R recovery_ratio = R(0);
    const R allowed = static_cast<R>(bounds.recovery_s);
    R recovery = Finding<R>::kNone;
    const bool quick = in_ms<R>(m.interval) * R(0.005) <= allowed * R(1.001);
    // What swings across the band without a step never comes back to it.
    if (quick && swing_ < R(0.5) * half_band) {
      recovery = answer.recovery();
      // Not back within the window: at least the window.
      if (!(recovery == recovery)) recovery = R(20);
      recovery_ratio = recovery / allowed;
    }
    const R ratio = std::max(deviation_ratio, recovery_ratio);
    if (ratio > R(1)) {
      const bool by_depth = deviation_ratio >= recovery_ratio;
      ledger.hold({info.id, Channel::frequency, by_depth ? Unit::pct : Unit::s,
                   Severity::attention},
                  {began_, m.at}, by_depth ? answer.deviation_pct : recovery,
                  by_depth ? limit : allowed,
                  {{from_, to_, answer.deviation_pct, recovery}},
                  ratio > worst_ratio_ ? Worse::this_one : Worse::none);
      worst_ratio_ = std::max(worst_ratio_, ratio);
    }
    return true;
  }

  StaticVector<Sample, kKept> samples_;
  Past last_;
  TimeOf<R> began_ = kNoTime;
  R hz_{};
  R before_ = R(0);
  R before_at_step_ = R(0);
  R swing_ = R(0);  // mean distance from `before_`, Hz
  R from_ = R(0);
  R to_ = R(0);
  R worst_ratio_ = R(0);
  Blind blind_ = Blind::no_step;
  bool active_ = false;
  bool settled_ = false;
};

}  // namespace telltale
