// speed-frequency-mismatch: frequency against speed and poles.
#pragma once

#include <algorithm>
#include <cmath>

#include "telltale/base/out_of_line.hpp"
#include "telltale/detect/check.hpp"
#include "telltale/detect/relative.hpp"

namespace telltale {

template <std::floating_point R>
class SpeedFrequencyMismatch {
 public:
  static constexpr CheckInfo info{
      .id = 6,
      .slug = "speed-frequency-mismatch",
      .title = "Speed and frequency disagree",
      .needs = bit(Channel::engine_speed) | bit(Channel::frequency),
      .source =
          "n = 120 f / p (IEC 60034, machine textbooks); slip of small "
          "asynchronous machines up to 6 %: textbooks",
      .details = {{{"speed", Unit::rpm},
                   {"frequency", Unit::Hz},
                   {"gap at light load", Unit::pct},
                   {"slip allowed", Unit::pct}}}};
  static constexpr When when{.steady = true};
  static constexpr Advice advice{
      .summary = "Speed and frequency disagree by {value} (limit {limit})",
      .causes = {"wrong pulses per revolution or pole count in the controller",
                 "speed pick-up losing or gaining pulses",
                 "belt or coupling slipping",
                 "asynchronous generator taken for a synchronous one"},
      .next = {"check speed with a hand tachometer against the screen",
               "check pole count and pulses per revolution in the settings",
               "check the pick-up's gap and cable",
               "state generator = \"asynchronous\" in the profile if it is"},
      .cautions = caution::kRotating};
  static constexpr Explanation explanation{
      .sees =
          "Engine speed and frequency of the same reading in settled "
          "running.",
      .decides =
          "The gap between n p / 120 and f, in percent of f, beyond "
          "what slip explains, for 60 s. A synchronous set has no "
          "slip. Where the gap vanishes at light load and grows with "
          "load the generator is taken to be asynchronous and up to "
          "6 % is its nature.",
      .blind = "Without both columns, or when the pole count is unclear.",
      .fooled = "Speed logged in coarse steps."};

  /// In percent of frequency, beyond slip.
  static constexpr Limits kUsual{
      .attention = level(1, 60), .side = Side::above, .unit = Unit::pct};
  static constexpr Limits limits(const Profile& profile) {
    return with_overrides(kUsual, profile, info.id);
  }
  void configure(const Profile& profile) {
    edge_ = rule(profile).edge();
    hz_pct_per_rpm_ = static_cast<R>(profile.rating.poles) / R(1.2);
    asynchronous_ = profile.rating.generator == Generator::asynchronous;
  }

  bool step(const Moment<R>& m, Ledger<R>& ledger) {
    const auto& speed = m[Channel::engine_speed];
    const auto& hz = m[Channel::frequency];
    if (!(hz_pct_per_rpm_ > R(0)) || !speed.good() || !hz.good() ||
        !(hz.value > R(0))) {
      return false;
    }
    const R gap = speed.value * hz_pct_per_rpm_ / hz.value - R(100);
    learn(m.load_pct, gap);
    const R slip = slip_allowed();
    // Faster than frequency tells, by no more than slip, is no gap.
    const R beyond = std::abs(gap - std::clamp(gap, R(0), slip));
    // Nearly always that is little enough whatever the readings' steps.
    if (!ledger.minds(info.id, beyond, edge_, Side::above)) return true;
    const R coarse = R(50) * m.resolution_of(Channel::engine_speed) /
                     std::max(speed.value, R(1));
    const R judged = beyond - std::min(coarse, R(2));
    if (ledger.minds(info.id, judged, edge_, Side::above)) {
      ledger.watch(m, kAbout, judged, rule(*m.profile),
                   {{speed.value, hz.value, light_gap_, slip}});
    }
    return true;
  }
  void reset() {
    light_n_ = loaded_n_ = 0;
    light_gap_ = loaded_gap_ = R(0);
    synchronous_ = false;
  }
  [[nodiscard]] Blind blind() const {
    return hz_pct_per_rpm_ > R(0) ? Blind::never_steady : Blind::no_nominal;
  }

 private:
  static constexpr R kLight = R(15);
  static constexpr R kLoaded = R(25);
  static constexpr std::uint16_t kMemory = 500;  // readings
  static constexpr std::uint16_t kEnough = 5;
  static constexpr std::uint16_t kProof = 60;

  static constexpr About kAbout{info.id, Channel::engine_speed, Unit::pct};

  static LatchRule<R> rule(const Profile& profile) {
    return LatchRule<R>::of(limits(profile), R(0.2));
  }
  /// Running means of the gap, lightly and properly loaded.
  void learn(R load, R gap) {
    if (load < kLight) include(gap, light_gap_, light_n_);
    if (load > kLoaded) include(gap, loaded_gap_, loaded_n_);
    // A minute under load without a gap: no slip, whatever comes later.
    if (loaded_n_ == kProof && std::abs(loaded_gap_) < R(0.4)) {
      synchronous_ = true;
    }
  }
  TELLTALE_OUT_OF_LINE static void include(R gap, R& mean, std::uint16_t& n) {
    if (n < kMemory) ++n;
    mean += (gap - mean) *
            (n == kMemory ? R(1) / R(kMemory) : R(1) / static_cast<R>(n));
  }
  [[nodiscard]] R slip_allowed() const {
    // A gap that comes with the load; the first readings under load belong to
    // the same machine.
    const bool seen =
        light_n_ >= kEnough && std::abs(light_gap_) < R(1) &&
        (loaded_n_ < kEnough || loaded_gap_ > light_gap_ + R(0.5));
    return asynchronous_ || (!synchronous_ && seen)
               ? static_cast<R>(kAsynchronousSlipPct)
               : R(0);
  }

  R edge_{};
  R hz_pct_per_rpm_ = R(0);  // 0: poles not known
  R light_gap_ = R(0);
  R loaded_gap_ = R(0);
  std::uint16_t light_n_ = 0;
  std::uint16_t loaded_n_ = 0;
  bool asynchronous_ = false;
  bool synchronous_ = false;
};

}  // namespace telltale
