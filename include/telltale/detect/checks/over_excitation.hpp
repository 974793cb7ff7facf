// over-excitation: volts and frequency high together, as when a boost stage
// stays in.
#pragma once

#include <algorithm>

#include "telltale/detect/check.hpp"
#include "telltale/detect/legs.hpp"

namespace telltale {

template <std::floating_point R>
class OverExcitation {
 public:
  static constexpr CheckInfo info{
      .id = 11,
      .slug = "over-excitation",
      .title = "Volts and frequency high together",
      .needs = bit(Channel::frequency),
      .needs_one = kAnyVolts,
      .source =
          "common practice: a boost stage held in after a stop under "
          "load; +5 % is the permanent band of IACS UR E5 for frequency",
      .details = {{{"volts", Unit::V}, {"frequency", Unit::Hz}}}};
  static constexpr When when{};
  static constexpr Advice advice{
      .summary =
          "Volts and frequency were {value} or more above nominal "
          "together (limit {limit}) for {for}: {d0} at {d1}",
      .causes = {"boost stage held in: the set was stopped under load before",
                 "boost relay or solenoid sticking",
                 "governor and regulator both disturbed after work"},
      .next = {"stop the set at once; sensitive equipment is at risk",
               "start it without load; then switch loads on one by one",
               "if the boost stage still does not drop out within some 5 s, "
               "check its relay and solenoid",
               "from now on take the load off before every stop"},
      .cautions = caution::kShock | caution::kRotating};
  static constexpr Explanation explanation{
      .sees =
          "Volts and frequency of the same reading at speed, from the "
          "first moment at speed on.",
      .decides =
          "The smaller of the two excesses over nominal, in percent, "
          "above the limit for 10 s. It replaces frequency-high and "
          "voltage-high for the same stretch.",
      .blind =
          "Without volts or frequency, or when a nominal figure is "
          "unknown.",
      .fooled = "Nominal figures of another system in the profile."};

  /// In percent above nominal, both at once.
  static constexpr Limits kUsual{
      .urgent = level(5, 10), .side = Side::above, .unit = Unit::pct};
  static constexpr Limits limits(const Profile& profile) {
    return with_overrides(kUsual, profile, info.id);
  }
  void configure(const Profile& profile) {
    edge_ = rule(profile).edge();
    hz_edge_ = static_cast<R>(profile.rating.frequency_hz) *
               (R(0.9999) + edge_ / R(100));
    hz_ = static_cast<R>(profile.rating.frequency_hz);
    line_v_ = static_cast<R>(profile.rating.voltage_v);
    leg_v_ = static_cast<R>(profile.rating.leg_voltage_v());
  }

  bool step(const Moment<R>& m, Ledger<R>& ledger) {
    const auto& hz = m[Channel::frequency];
    if (!hz.good() || !(hz_ == hz_) || !(line_v_ == line_v_)) return false;
    // Nearly always the frequency alone says no.
    if (!ledger.minds(info.id, hz.value, hz_edge_, Side::above)) {
      return reads_volts(m);
    }
    // The highest of what is logged, in shares of its nominal.
    Channel highest = Channel::none;
    R ratio = R(0);
    const auto look_at = [&](Channel channel, R nominal) {
      const auto& volts = m[channel];
      // A later one must stand out: rounding decides nothing.
      if (!volts.good() || !(volts.value > R(1.001) * ratio * nominal)) return;
      ratio = volts.value / nominal;
      highest = channel;
    };
    for (Channel leg : kLegVolts) look_at(leg, leg_v_);
    look_at(Channel::voltage_line, line_v_);
    if (highest == Channel::none) return false;
    const R excess = percent_over(std::min(hz.value / hz_, ratio));
    if (ledger.minds(info.id, excess, edge_, Side::above)) {
      ledger.watch(m, {info.id, highest, Unit::pct}, excess, rule(*m.profile),
                   {{m[highest].value, hz.value}});
    }
    return true;
  }
  [[nodiscard]] Blind blind() const {
    return hz_ == hz_ && line_v_ == line_v_ ? Blind::never_steady
                                            : Blind::no_nominal;
  }

 private:
  static R percent_over(R ratio) { return (ratio - R(1)) * R(100); }
  static bool reads_volts(const Moment<R>& m) {
    for (Channel channel : kAllVolts) {
      if (m[channel].good() && m[channel].value > R(0)) return true;
    }
    return false;
  }
  static LatchRule<R> rule(const Profile& profile) {
    return LatchRule<R>::of(limits(profile), R(0.5));
  }

  R edge_{};
  R hz_edge_{};  // a little below it
  R hz_{};
  R line_v_{};
  R leg_v_{};
};

}  // namespace telltale
