// LoadTracker<R>: how much load is on, and when it last changed for good.
#pragma once

#include <algorithm>
#include <cmath>
#include <concepts>
#include <cstdint>
#include <limits>

#include "telltale/acquire/frame.hpp"
#include "telltale/base/box_time.hpp"
#include "telltale/base/ring.hpp"
#include "telltale/base/stamp.hpp"
#include "telltale/profile.hpp"

namespace telltale {

/// Where the load figure comes from.
enum class LoadSource : std::uint8_t {
  none,
  load_column,
  power,    // measured power over rating (or over the log's own highest)
  derived,  // volts, amps and power factor instead of measured power
  current   // amps alone: on or off, no percentage
};

/// The channel a load figure is read off: where its evidence stands.
constexpr Channel channel_of(LoadSource source) {
  if (source == LoadSource::load_column) return Channel::load;
  const bool amps =
      source == LoadSource::derived || source == LoadSource::current;
  return amps ? Channel::current_l1 : Channel::power;
}

/// Real power in kW of the legs that have both volts and amps; NaN if none.
/// Split-phase and three-phase legs take their share of the line voltage
/// where the leg's own is not logged.
template <std::floating_point R>
R power_from_legs(const Frame<R>& frame, const Rating& rating) {
  constexpr Channel kVolts[] = {Channel::voltage_l1, Channel::voltage_l2,
                                Channel::voltage_l3};
  constexpr Channel kAmps[] = {Channel::current_l1, Channel::current_l2,
                               Channel::current_l3};
  R share = R(1);
  if (rating.legs == 2) share = R(0.5);
  if (rating.legs == 3) share = R(0.57735027);
  const auto& line = frame[Channel::voltage_line];
  const auto& factor = frame[Channel::power_factor];
  const R pf = factor.usable() ? std::abs(factor.value)
                               : static_cast<R>(rating.power_factor);
  R watts = R(0);
  bool any = false;
  for (int i = 0; i < 3; ++i) {
    const auto& amps = frame[kAmps[i]];
    const auto& leg = frame[kVolts[i]];
    if (!amps.usable() || !(leg.usable() || line.usable())) continue;
    watts += amps.value * (leg.usable() ? leg.value : line.value * share);
    any = true;
  }
  return any ? watts * pf * R(0.001) : std::numeric_limits<R>::quiet_NaN();
}

/// Percent of rating, whether the set is on load, and load steps: changes of
/// 10 % of rating or more within 3 s or one interval (contract section 4).
template <std::floating_point R>
class LoadTracker {
 public:
  static constexpr R kOnLoad = R(5);   // % of rating
  static constexpr R kOffLoad = R(4);  // hysteresis, ours
  static constexpr R kStep = R(10);    // % of rating
  static constexpr R kOnAmps = R(1);
  static constexpr SpanOf<R> kStepWindow = seconds(3);

  void configure(const Profile& profile) {
    const float rating = profile.rating.power_kw;
    rated_ = is_known(rating);
    const float scale = rated_ ? rating : profile.load_scale_kw;
    percent_per_kw_ =
        is_known(scale) && scale > 0.0F ? R(100) / static_cast<R>(scale) : R(0);
  }

  void step(const Frame<R>& frame, const Rating& rating) {
    read(frame, rating);
    if (!(percent_ == percent_)) return;
    on_load_ = percent_ >= (on_load_ ? kOffLoad : kOnLoad);
    watch_for_step(frame.time());
    watch_for_move(frame.time());
  }
  void reset() {
    recent_.clear();
    step_at_ = moved_at_ = kNoTime;
    smooth_ = anchor_ = kNone;
    on_load_ = false;
    percent_ = kw_ = kNone;
  }

  /// % of rating; of the log's highest where the rating is not known; NaN
  /// where nothing tells.
  [[nodiscard]] R percent() const { return percent_; }
  /// Measured or derived power, kW; NaN where nothing tells.
  [[nodiscard]] R kw() const { return kw_; }
  [[nodiscard]] bool on_load() const { return on_load_; }
  [[nodiscard]] LoadSource source() const { return source_; }
  /// percent() is of the rating, not of the log's highest.
  [[nodiscard]] bool rated() const {
    return rated_ || source_ == LoadSource::load_column;
  }
  /// When the load last moved by a step or more; kNoTime: never.
  [[nodiscard]] TimeOf<R> step_at() const { return step_at_; }
  /// When the load last left what was comparable (within 10 % of rating) to
  /// what it had been, by a step or slowly; kNoTime: never.
  [[nodiscard]] TimeOf<R> moved_at() const { return moved_at_; }
  /// Now and then: see keep_young().
  void keep_young_at(TimeOf<R> now) {
    keep_young<R>(step_at_, now);
    keep_young<R>(moved_at_, now);
  }
  /// This very scan began a step (the one before it was none).
  [[nodiscard]] bool step_began() const { return step_began_; }
  /// Load before the last step.
  [[nodiscard]] R step_from() const { return step_from_; }

 private:
  struct Past {
    Stamp at;
    R percent;
  };
  static constexpr R kNone = std::numeric_limits<R>::quiet_NaN();
  static constexpr R kPerSmoothMs = R(1) / R(10000);

  void read(const Frame<R>& frame, const Rating& rating) {
    const auto& power = frame[Channel::power];
    const auto& load = frame[Channel::load];
    kw_ = power.usable() ? power.value : kNone;
    if (load.usable()) {
      source_ = LoadSource::load_column;
      percent_ = load.value;
      return;
    }
    if (power.usable()) {
      source_ = LoadSource::power;
    } else {
      kw_ = power_from_legs(frame, rating);
      source_ = kw_ == kw_ ? LoadSource::derived : LoadSource::none;
    }
    percent_ = percent_per_kw_ > R(0) ? kw_ * percent_per_kw_ : kNone;
    if (!(percent_ == percent_)) by_current(frame);
  }
  void by_current(const Frame<R>& frame) {
    bool known = false;
    bool flowing = false;
    for (Channel channel :
         {Channel::current_l1, Channel::current_l2, Channel::current_l3}) {
      const auto& amps = frame[channel];
      known = known || amps.usable();
      flowing = flowing || (amps.usable() && amps.value > kOnAmps);
    }
    if (known) {
      source_ = LoadSource::current;
      on_load_ = flowing;
    }
  }
  void watch_for_step(TimeOf<R> at) {
    // The newest reading that is 3 s old or older stays: a step of one long
    // interval counts too.
    while (recent_.size() > 1 && recent_[1].at.age(at) >= kStepWindow) {
      recent_.pop();
    }
    R low = percent_;
    R high = percent_;
    recent_.for_each([&](const Past& past) {
      low = past.percent < low ? past.percent : low;
      high = past.percent > high ? past.percent : high;
    });
    const bool stepping = percent_ - low >= kStep || high - percent_ >= kStep;
    step_began_ = stepping && !stepping_;
    if (step_began_) step_from_ = recent_.front().percent;
    if (stepping) step_at_ = at;
    stepping_ = stepping;
    // Fast sampling is thinned so that the ring spans the window.
    if (recent_.empty() ||
        std::int64_t{recent_.back().at.age(at).ms} * 8 >= kStepWindow.ms) {
      recent_.push({Stamp(at), percent_});
    }
  }

  /// The smoothed load against an anchor that follows it in jumps.
  void watch_for_move(TimeOf<R> at) {
    if (!(smooth_ == smooth_)) {
      smooth_ = anchor_ = percent_;
      smoothed_at_ = Stamp(at);
      return;
    }
    const R step = in_ms<R>(smoothed_at_.age(at)) * kPerSmoothMs;
    smoothed_at_ = Stamp(at);
    smooth_ += (step < R(1) ? step : R(1)) * (percent_ - smooth_);
    if (std::abs(smooth_ - anchor_) > kStep) {
      anchor_ = smooth_;
      moved_at_ = at;
    }
    if (step_at_ == at) moved_at_ = at;
  }

  Ring<Past, 8> recent_;
  TimeOf<R> step_at_ = kNoTime;
  TimeOf<R> moved_at_ = kNoTime;
  Stamp smoothed_at_;
  R smooth_ = kNone;
  R anchor_ = kNone;
  R percent_per_kw_ = R(0);
  R percent_ = kNone;
  R kw_ = kNone;
  R step_from_ = kNone;
  LoadSource source_ = LoadSource::none;
  bool rated_ = false;
  bool on_load_ = false;
  bool stepping_ = false;
  bool step_began_ = false;
};

}  // namespace telltale
