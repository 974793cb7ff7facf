// frequency-hunting: oscillation at steady load.
#pragma once

#include <algorithm>
#include <array>
#include <cmath>
#include <span>
#include <type_traits>

#include "telltale/base/compact.hpp"
#include "telltale/base/ring.hpp"
#include "telltale/base/stamp.hpp"
#include "telltale/condition/outer_pairs.hpp"
#include "telltale/condition/performance_class.hpp"
#include "telltale/detect/check.hpp"

namespace telltale {

template <std::floating_point R>
class FrequencyHunting {
 public:
  static constexpr CheckInfo info{
      .id = 4,
      .slug = "frequency-hunting",
      .title = "Frequency hunts",
      .needs = bit(Channel::frequency),
      .source =
          "ISO 8528-5 steady-state frequency band (full width): G1 2.5, "
          "G2 1.5, G3 0.5 %; urgent twice G1, common practice",
      .details = {{{"band from", Unit::Hz},
                   {"band to", Unit::Hz},
                   {"reversals", Unit::one}}}};
  static constexpr When when{.phases = kAnyPhase};
  static constexpr Advice advice{
      .summary =
          "Frequency swung within a band {value} of nominal wide at "
          "steady load (limit {limit})",
      .causes = {"governor sensitivity or damping out of adjustment",
                 "sticking governor linkage or fuel rack",
                 "air in the fuel, or a clogging fuel filter",
                 "one injector or cylinder missing",
                 "unsteady load taken for a steady one"},
      .next = {"watch frequency with the load held constant",
               "move the governor linkage by hand, engine stopped: no play, "
               "no stiffness",
               "bleed the fuel system and change the filter",
               "listen for a misfiring cylinder"},
      .cautions = caution::kRotating | caution::kFuel};
  static constexpr Explanation explanation{
      .sees =
          "Frequency over 30 s of settled running without a load step, at "
          "most 64 readings of it.",
      .decides =
          "The band from the 0.5th to the 99.5th percentile, full "
          "width, in percent of nominal; at least three reversals "
          "larger than a third of the band, since one lasting change "
          "is no hunting, with an eighth of the readings near either end; "
          "without the outermost reading at either end the band must still "
          "reach 0.85 of the limit, unless readings are few; and never less "
          "than three steps of the column's resolution. Where engine speed is "
          "logged too it "
          "must swing along, else the swing is the sensor's.",
      .blind = "While load steps come closer than 40 s; at intervals over 7 s.",
      .fooled = "A load that cycles within less than 10 % of rating."};

  /// In percent of nominal frequency, full width.
  static constexpr Limits limits(const Profile& profile) {
    const float band = limits_of(profile.rating.performance).band;
    return with_overrides({.attention = level(band, 30),
                           .urgent = level(5, 30),
                           .side = Side::above,
                           .unit = Unit::pct},
                          profile, info.id);
  }
  void configure(const Profile& profile) {
    hz_ = static_cast<R>(profile.rating.frequency_hz);
  }

  bool step(const Moment<R>& m, Ledger<R>& ledger) {
    if (!(hz_ == hz_)) return blinded(Blind::no_nominal);
    if (m.interval > kLongest) return blinded(Blind::interval_too_long);
    const auto& hz = m[Channel::frequency];
    if (!m.steady) {
      forget();
      return false;
    }
    if (!hz.good()) return false;
    keep(m, hz.value);
    if (samples_.size() < kLeast || !spans_window(m.at)) return false;
    if (!is_set(judged_) || m.at - judged_ >= kEvery) {
      judged_ = m.at;
      judge(m, ledger);
      load_ = static_cast<std::uint8_t>((load_ + 1U) % loads_.size());
      loads_[load_] = LoadRange{};
    }
    return true;
  }
  void reset() {
    forget();
    judged_ = kNoTime;
    blind_ = Blind::never_steady;
  }
  [[nodiscard]] Blind blind() const { return blind_; }

 private:
  static constexpr SpanOf<R> kWindow = seconds(30);
  static constexpr SpanOf<R> kEvery = seconds(5);
  static constexpr SpanOf<R> kLongest = seconds(7);
  static constexpr std::size_t kKept = 64;
  static constexpr std::size_t kLeast = 5;
  static constexpr std::size_t kMany = 20;
  /// How near the limit the band must come once more. A swing that is met at
  /// its very end by chance comes within a tenth of it again.
  static constexpr R kTwice = R(0.85);
  static constexpr int kReversals = 3;
  static constexpr R kLoadRange = R(8);  // % of rating

  using Hertz = Compact<R, HertzRange>;
  struct RatioRange {  // speed over nominal
    static constexpr Fixed16::Scale kScale{0.0F, 1.0F / 32768.0F};
  };
  struct LoadScale {  // percent
    static constexpr Fixed16::Scale kScale{-100.0F, 0.01F};
  };
  /// Between which loads the set ran; NaN where nothing told them.
  struct LoadRange {
    Compact<R, LoadScale> low = Finding<R>::kNone;
    Compact<R, LoadScale> high = Finding<R>::kNone;

    void include(R load) {
      if (!(load >= R(low))) low = load;
      if (!(load <= R(high))) high = load;
    }
  };
  struct Sample {
    Hertz hz;
    Compact<R, RatioRange> ratio;  // NaN where speed is not logged
    ShortStamp at;                 // of the window: less than a lap ago
  };

  bool blinded(Blind why) {
    blind_ = why;
    return false;
  }
  void forget() {
    samples_.clear();
    loads_.fill(LoadRange{});
  }
  void keep(const Moment<R>& m, R hz) {
    if (newest_.age(m.at) > kWindow) forget();
    newest_ = Stamp(m.at);
    while (!samples_.empty() && samples_.front().at.age(m.at) > kWindow) {
      samples_.pop();
    }
    // Faster sampling is thinned so that the ring spans the window.
    if (!samples_.empty() &&
        samples_.back().at.age(m.at).ms * std::int64_t{kKept} < kWindow.ms) {
      return;
    }
    const auto& speed = m[Channel::engine_speed];
    samples_.push({hz, speed.good() ? m.turn_ratio : Finding<R>::kNone,
                   ShortStamp(m.at)});
    if (m.load_pct == m.load_pct) loads_[load_].include(m.load_pct);
  }
  [[nodiscard]] bool spans_window(TimeOf<R> now) const {
    return samples_.front().at.age(now).ms * 10 >= kWindow.ms * 8;
  }

  [[gnu::noinline]] void judge(const Moment<R>& m, Ledger<R>& ledger) {
    // Mostly the full width says no, which quantiles only narrow.
    Hertz lowest = samples_.front().hz;
    Hertz highest = lowest;
    samples_.for_each([&](const Sample& s) {
      lowest = Hertz::least(lowest, s.hz);
      highest = Hertz::most(highest, s.hz);
    });
    const Limits bounds = limits(*m.profile);
    const R whole = (R(highest) - R(lowest)) / hz_ * R(100);
    if (!is_finding(bounds.severity_of(static_cast<float>(whole)))) {
      ledger.close_after(info.id, m.at, kWindow);
      return;
    }
    OuterPairs<R, Hertz> ends;
    samples_.for_each([&](const Sample& s) { ends.add(s.hz); });
    const R low = ends.lower(R(0.005));
    const R high = ends.upper(R(0.995));
    const R width = high - low;
    const R percent = width / hz_ * R(100);
    const Severity severity = bounds.severity_of(static_cast<float>(percent));
    if (!is_finding(severity)) {
      ledger.close_after(info.id, m.at, kWindow);
      return;
    }
    const R twice =
        (ends.second_highest() - ends.second_lowest()) / hz_ * R(100);
    if (samples_.size() >= kMany &&
        twice < kTwice * static_cast<R>(bounds.attention.limit)) {
      return;
    }
    const R resolution = m.resolution_of(Channel::frequency);
    if (width < R(3) * resolution * R(0.999)) return;
    const int turns = reversals(width / R(3));
    if (turns < kReversals || !swings_both_ways(low, width) ||
        !load_is_steady() || !speed_agrees()) {
      return;
    }
    ledger.hold({info.id, Channel::frequency, Unit::pct, severity},
                {samples_.front().at.full(m.at), m.at}, percent,
                static_cast<R>(bounds[severity].limit),
                {{low, high, static_cast<R>(turns)}});
  }
  /// Turning points between which frequency moved by more than `least`.
  [[nodiscard]] int reversals(R least) const {
    int count = 0;
    int direction = 0;
    const R first = samples_[0].hz;
    R extreme = first;
    for (std::size_t i = 1; i < samples_.size(); ++i) {
      const R x = samples_[i].hz;
      if (direction >= 0 && x > extreme) extreme = x;
      if (direction <= 0 && x < extreme) extreme = x;
      const R back = direction >= 0 ? extreme - x : x - extreme;
      const R forth = direction == 0 ? std::abs(x - first) : back;
      if (forth <= least) continue;
      if (direction == 0) {
        direction = x > first ? 1 : -1;
      } else {
        direction = -direction;
        ++count;
      }
      extreme = x;
    }
    return count;
  }
  /// A dip now and then is no swing: both ends of the band must be visited.
  [[nodiscard]] bool swings_both_ways(R low, R width) const {
    std::size_t at_low = 0;
    std::size_t at_high = 0;
    for (std::size_t i = 0; i < samples_.size(); ++i) {
      const R place = (samples_[i].hz - low) / width;
      if (place < R(0.25)) ++at_low;
      if (place > R(0.75)) ++at_high;
    }
    return at_low * 8 >= samples_.size() && at_high * 8 >= samples_.size();
  }
  /// Smaller changes than a load step move frequency too.
  [[nodiscard]] bool load_is_steady() const {
    R low = R(1000);
    R high = R(-1000);
    for (const LoadRange& loads : loads_) {
      if (R(loads.low) < low) low = loads.low;
      if (R(loads.high) > high) high = loads.high;
    }
    return !(high - low > kLoadRange);
  }
  /// Correlation of frequency and speed; true where speed can't tell.
  [[nodiscard]] bool speed_agrees() const {
    R n = R(0), mean_f = R(0), mean_s = R(0);
    for (std::size_t i = 0; i < samples_.size(); ++i) {
      const Sample& s = samples_[i];
      const R ratio = s.ratio;
      if (!(ratio == ratio)) continue;
      n += R(1);
      mean_f += s.hz;
      mean_s += ratio;
    }
    if (n < R(5)) return true;
    mean_f /= n;
    mean_s /= n;
    R fs = R(0), ff = R(0), ss = R(0);
    for (std::size_t i = 0; i < samples_.size(); ++i) {
      const Sample& s = samples_[i];
      const R ratio = s.ratio;
      if (!(ratio == ratio)) continue;
      const R off_f = s.hz - mean_f;
      const R off_s = ratio - mean_s;
      fs += off_f * off_s;
      ff += off_f * off_f;
      ss += off_s * off_s;
    }
    // A speed column that does not move at all is too coarse to ask.
    if (!(ss > R(0)) || !(ff > R(0))) return true;
    // 0.5 comes by chance in one of two hundred windows of 30 readings.
    return fs > R(0.5) * std::sqrt(ff * ss);
  }

  Ring<Sample, kKept> samples_;
  /// From one judgement to the next, of the window; load_ is the newest.
  std::array<LoadRange, kWindow.ms / kEvery.ms> loads_{};
  Stamp newest_;  // last reading looked at
  TimeOf<R> judged_ = kNoTime;
  R hz_{};
  Blind blind_ = Blind::never_steady;
  std::uint8_t load_ = 0;
};

}  // namespace telltale
