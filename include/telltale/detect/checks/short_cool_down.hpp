// short-cool-down: no-load time before the stop after heavy running.
#pragma once

#include "telltale/base/compact.hpp"
#include "telltale/condition/rolling_mean.hpp"
#include "telltale/detect/check.hpp"
#include "telltale/detect/stop_kind.hpp"

namespace telltale {

template <std::floating_point R>
class ShortCoolDown {
 public:
  static constexpr CheckInfo info{
      .id = 17,
      .slug = "short-cool-down",
      .title = "Cool-down too short",
      .needs_one =
          bit(Channel::power) | bit(Channel::load) | bit(Channel::current_l1),
      .source =
          "engine handbooks: 2 to 5 min without load; NFPA 110 6.2 uses "
          "5 min; 120 s: common practice",
      .details = {{{"load before", Unit::pct}}}};
  static constexpr When when{.block = true};
  static constexpr Advice advice{
      .summary =
          "Only {value} without load before the stop, after {d0} mean "
          "load (at least {limit})",
      .causes = {"stopped too soon after unloading",
                 "cool-down time in the controller set too short"},
      .next = {"run two to five minutes without load before stopping",
               "lengthen the controller's cool-down time"},
      .cautions = 0};
  static constexpr Explanation explanation{
      .sees =
          "The last no-load stretch before the stop and the mean load of "
          "the last 10 min on load.",
      .decides =
          "A note where that mean was over 50 % of rating and the "
          "no-load stretch shorter than the limit. A stop with the "
          "load still on is left to stop-under-load and abrupt-stop.",
      .blind =
          "When the stop is not in the log, where the rating is not "
          "known, before 10 min on load.",
      .fooled = "Nothing known."};

  /// No-load time in seconds.
  static constexpr Limits kUsual{
      .note = level(120, 0), .side = Side::below, .unit = Unit::s};
  static constexpr Limits limits(const Profile& profile) {
    return with_overrides(kUsual, profile, info.id);
  }
  void configure(const Profile& profile) {
    limit_ = static_cast<R>(limits(profile).note.limit);
  }

  bool step(const Moment<R>& m, Ledger<R>&) {
    rated_ = m.load_rated;
    const R load = m.block->load_pct;
    if (rated_ && load >= LoadTracker<R>::kOnLoad) {
      recent_.add(m.block->length, load);
      source_ = m.load_source;
    }
    return false;
  }
  [[gnu::cold]] bool end_run(const Moment<R>& m, Ledger<R>& ledger) {
    if (kind_of(m.stop, LoadTracker<R>::kOnLoad) == StopKind::not_seen ||
        !recent_.full()) {
      return false;
    }
    const R mean = recent_.mean();
    const R spent = in_ms<R>(m.stop->unloaded_for) * R(0.001);
    if (mean > kHeavy && spent > R(0) && spent < limit_) {
      ledger.tell(
          {info.id, channel_of(source_), Unit::s, Severity::note},
          {m.stop->fall_since - m.stop->unloaded_for, m.stop->fall_since},
          spent, limit_, {{mean}});
    }
    return true;
  }
  void reset() { recent_.clear(); }
  [[nodiscard]] Blind blind() const {
    if (!rated_) return Blind::no_rating;
    return recent_.full() ? Blind::stop_not_seen : Blind::never_on_load;
  }

 private:
  static constexpr R kHeavy = R(50);

  RollingMean<R, 10, minutes(10), Compact<R, PercentRange>> recent_;
  R limit_{};
  bool rated_ = false;
  LoadSource source_ = LoadSource::none;
};

}  // namespace telltale
