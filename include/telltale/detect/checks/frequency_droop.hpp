// frequency-droop: how far frequency falls from no load to full load.
#pragma once

#include <algorithm>
#include <array>
#include <cmath>

#include "telltale/condition/performance_class.hpp"
#include "telltale/detect/check.hpp"
#include "telltale/detect/standing.hpp"

namespace telltale {

template <std::floating_point R>
class FrequencyDroop {
 public:
  static constexpr CheckInfo info{
      .id = 5,
      .slug = "frequency-droop",
      .title = "Too much droop",
      .needs = bit(Channel::frequency),
      .source = "ISO 8528-5 frequency droop: G1 8, G2 5, G3 3 % of rated",
      .details = {{{"at no load", Unit::Hz},
                   {"at full load", Unit::Hz},
                   {"lightest load seen", Unit::pct},
                   {"heaviest load seen", Unit::pct}}}};
  static constexpr When when{.block = true};
  static constexpr Advice advice{
      .summary =
          "Frequency droops by {value} from no load to full load "
          "(limit {limit})",
      .causes = {"governor droop set too wide",
                 "worn governor spring or linkage with play",
                 "engine short of power at higher load: fuel, air or "
                 "compression",
                 "asynchronous generator: slip adds to the governor's droop"},
      .next = {"note frequency at no load, half and full load with a meter",
               "check fuel filter and air intake before touching the governor",
               "check linkage for play, then adjust droop by the handbook"},
      .cautions = caution::kShock | caution::kRotating};
  static constexpr Explanation explanation{
      .sees =
          "10 s means of frequency and load in settled running, gathered "
          "in ten classes of load.",
      .decides =
          "A straight line through the classes that hold at least "
          "three means, extrapolated to the whole load range: droop = "
          "100 (f at no load - f at full load) / rated frequency.",
      .blind =
          "Until the run has covered 40 % of the rating, and where the "
          "rating is not known.",
      .fooled =
          "A frequency drift that goes with the load plan; a governor "
          "adjusted during the run."};

  /// In percent of rated frequency.
  static constexpr Limits limits(const Profile& profile) {
    return with_overrides(
        {.attention = level(limits_of(profile.rating.performance).droop, 0),
         .side = Side::above,
         .unit = Unit::pct},
        profile, info.id);
  }
  SetupError configure(const Profile& profile) {
    limit_ = limits(profile).attention;
    hz_ = static_cast<R>(profile.rating.frequency_hz);
    return validate(limits(profile));
  }

  bool step(const Moment<R>& m, const FindingSink<R>& sink) {
    const R hz = (*m.block)[Channel::frequency];
    const R load = m.block->load_pct;
    if (!(hz_ == hz_)) return blinded(Blind::no_nominal);
    if (!m.load_rated) return blinded(Blind::no_rating);
    if (!(load == load)) return blinded(Blind::no_load_reading);
    if (!m.block->steady || !(hz == hz)) return blinded(Blind::never_steady);
    Class& c = classes_[static_cast<std::size_t>(
        std::clamp(load * R(0.1), R(0), R(9.99)))];
    c.add(load, hz - hz_);
    return judge(m, sink);
  }
  void end_run(const Moment<R>& m, const FindingSink<R>& sink) {
    standing_.close({.check = info.id, .unit = Unit::pct}, m.at, sink);
  }
  void reset() {
    classes_.fill(Class{});
    standing_.reset();
    blind_ = Blind::never_steady;
  }
  [[nodiscard]] Blind blind() const { return blind_; }

 private:
  static constexpr R kLeastSpan = R(40);
  static constexpr std::uint16_t kLeastBlocks = 3;

  struct Class {  // running means of one class of load
    R load = R(0);
    R hz = R(0);  // off nominal
    std::uint16_t n = 0;

    void add(R l, R f) {
      if (n < 0xFFFF) ++n;
      load += (l - load) / static_cast<R>(n);
      hz += (f - hz) / static_cast<R>(n);
    }
  };

  bool blinded(Blind why) {
    blind_ = why;
    return false;
  }
  bool judge(const Moment<R>& m, const FindingSink<R>& sink) {
    R n = R(0), mean_load = R(0), mean_hz = R(0);
    R low = R(1000), high = R(-1000);
    for (const Class& c : classes_) {
      if (c.n < kLeastBlocks) continue;
      n += R(1);
      mean_load += c.load;
      mean_hz += c.hz;
      low = std::min(low, c.load);
      high = std::max(high, c.load);
    }
    if (n < R(2) || high - low < kLeastSpan) {
      return blinded(Blind::load_too_uniform);
    }
    mean_load /= n;
    mean_hz /= n;
    R ll = R(0), lf = R(0);
    for (const Class& c : classes_) {
      if (c.n < kLeastBlocks) continue;
      ll += (c.load - mean_load) * (c.load - mean_load);
      lf += (c.load - mean_load) * (c.hz - mean_hz);
    }
    const R slope = lf / ll;
    const R droop = -slope * R(10000) / hz_;
    if (droop > static_cast<R>(limit_.limit)) {
      const R at_none = hz_ + mean_hz - slope * mean_load;
      standing_.assert_now(
          {.check = info.id,
           .channel = Channel::frequency,
           .severity = Severity::attention,
           .unit = Unit::pct,
           .value = droop,
           .limit = static_cast<R>(limit_.limit),
           .since = m.run->at_speed_since,
           .until = m.block->to,
           .detail = {at_none, at_none + slope * R(100), low, high}},
          true, sink);
    }
    return true;
  }

  std::array<Class, 10> classes_{};
  Standing<R> standing_;
  Level limit_;
  R hz_ = Finding<R>::kNone;
  Blind blind_ = Blind::never_steady;
};

}  // namespace telltale
