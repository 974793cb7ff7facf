// overload: rolling means of power, or of a leg's current, against rating.
#pragma once

#include <algorithm>
#include <array>

#include "telltale/base/compact.hpp"
#include "telltale/condition/rolling_mean.hpp"
#include "telltale/detect/check.hpp"
#include "telltale/detect/legs.hpp"

namespace telltale {

template <std::floating_point R>
class Overload {
 public:
  static constexpr CheckInfo info{
      .id = 12,
      .slug = "overload",
      .title = "Overloaded",
      .needs_one = bit(Channel::power) | bit(Channel::load) | kAnyAmps,
      .source =
          "rating plate; ISO 8528-1 allows no standing overload (10 % "
          "for 1 h in 12 h is the maker's to grant); times: common "
          "practice",
      .details = {{{"mean over 15 min", Unit::pct},
                   {"mean over 60 s", Unit::pct},
                   {"mean over 30 s", Unit::pct}}}};
  static constexpr When when{.block = true};
  static constexpr Advice advice{
      .summary =
          "{channel} averaged {value} of rating (limit {limit}) for "
          "{for}",
      .causes = {"more connected than the set is rated for",
                 "several motors or heaters starting together",
                 "all load on one leg: the leg is full before the set is",
                 "rating in the profile lower than the plate's"},
      .next = {"list what was on at that time and its watts",
               "stagger heaters, chargers and air conditioners",
               "move loads from the fuller leg to the other",
               "check winding temperature and breaker rating"},
      .cautions = caution::kShock | caution::kHotOil};
  static constexpr Explanation explanation{
      .sees =
          "Power (or load) and the fullest leg's current, in percent of "
          "rating, as 10 s means.",
      .decides =
          "Rolling means: above 100 % over 15 min or 110 % over 60 s, "
          "urgent above 120 % over 30 s.",
      .blind =
          "Where the rating is not known, for currents also where volts "
          "and legs are not.",
      .fooled =
          "Motor starts shorter than the windows do not count; a wrong "
          "current-transformer ratio does."};

  /// Over 60 s; 15 min at 100 % and 30 s for urgent are fixed beside it.
  static constexpr Limits kUsual{.attention = level(110, 60),
                                 .urgent = level(120, 30),
                                 .side = Side::above,
                                 .unit = Unit::pct};
  static constexpr Limits limits(const Profile& profile) {
    return with_overrides(kUsual, profile, info.id);
  }
  void configure(const Profile& profile) {
    const float amps = rated_leg_amps(profile.rating);
    percent_per_amp_ =
        is_known(amps) && amps > 0.0F ? R(100) / static_cast<R>(amps) : R(0);
  }

  bool step(const Moment<R>& m, Ledger<R>& ledger) {
    const Block<R>& block = *m.block;
    Verdict worst;
    if (m.load_rated && block.load_pct == block.load_pct) {
      judge(m, power_, channel_of(m.load_source), block.load_pct, worst);
    }
    if (percent_per_amp_ > R(0)) {
      Channel fullest = Channel::none;
      R most = R(-1);
      for (Channel leg : kLegAmps) {
        const R amps = block[leg];
        if (amps > most) {
          most = amps;
          fullest = leg;
        }
      }
      if (fullest != Channel::none) {
        judge(m, leg_, fullest, most * percent_per_amp_, worst);
      }
    }
    tell(m, worst, ledger);
    return worst.severity != Severity::not_judged;
  }
  void reset() {
    power_ = Track{};
    leg_ = Track{};
  }
  [[nodiscard]] static constexpr Blind blind() { return Blind::no_rating; }

 private:
  struct Track {
    using Percent = Compact<R, PercentRange>;
    RollingMean<R, 15, minutes(15), Percent> quarter;
    RollingMean<R, 6, seconds(60), Percent> minute;
    TimeOf<R> over_since = kNoTime;  // blocks above 100 % without a break
  };
  static constexpr R kFull = R(100);

  /// Means of many readings carry the rounding of all of them.
  static bool over(R mean, R limit) { return mean > limit * R(1.00002); }

  struct Verdict {
    Channel channel = Channel::none;
    Severity severity = Severity::not_judged;
    Span<R> span;
    R value = R(0);
    R limit = R(0);
    Details<R> means;
  };
  /// Of severity healthy where no mean is over its limit. It replaces `worst`
  /// where it is graver: a leg is worth a word of its own where it is worse off
  /// than the set.
  [[gnu::noinline]] static void judge(const Moment<R>& m, Track& track,
                                      Channel channel, R percent,
                                      Verdict& worst) {
    const Block<R>& block = *m.block;
    const Limits bounds = limits(*m.profile);
    track.quarter.add(block.length, percent);
    track.minute.add(block.length, percent);
    if (!(percent > kFull)) {
      track.over_since = kNoTime;
    } else if (!is_set(track.over_since)) {
      track.over_since = block.from;
    }
    const R quarter = track.quarter.mean_if_full();
    const R minute = track.minute.mean_if_full();
    const R half = track.minute.mean_if_full(3);
    Severity severity = Severity::healthy;
    R value = R(0);
    R limit = R(0);
    if (over(half, static_cast<R>(bounds.urgent.limit))) {
      severity = Severity::urgent;
      value = half;
      limit = static_cast<R>(bounds.urgent.limit);
    } else if (over(minute, static_cast<R>(bounds.attention.limit))) {
      severity = Severity::attention;
      value = minute;
      limit = static_cast<R>(bounds.attention.limit);
    } else if (over(quarter, kFull)) {
      severity = Severity::attention;
      value = quarter;
      limit = kFull;
    }
    if (severity <= worst.severity) return;
    const TimeOf<R> since =
        is_set(track.over_since) ? track.over_since : block.from;
    worst = {channel, severity, {since, block.to},
             value,   limit,    {{quarter, minute, half}}};
  }
  /// One finding at a time: it stays with the channel it began with until
  /// another is graver.
  void tell(const Moment<R>& m, const Verdict& found, Ledger<R>& ledger) {
    if (!is_finding(found.severity)) {
      ledger.close_after(info.id, m.at, seconds(60));
      return;
    }
    const About held = ledger.held(info.id);
    const bool other =
        is_finding(held.severity) && held.channel != found.channel;
    if (other && found.severity > held.severity) ledger.close(info.id, m.at);
    ledger.hold({info.id, found.channel, Unit::pct, found.severity}, found.span,
                found.value, found.limit, found.means,
                other ? Worse::none : Worse::higher);
  }

  Track power_;
  Track leg_;
  R percent_per_amp_ = R(0);
};

}  // namespace telltale
