// stop-under-load: load still on at a controlled stop.
#pragma once

#include "telltale/detect/check.hpp"
#include "telltale/detect/stop_kind.hpp"

namespace telltale {

template <std::floating_point R>
class StopUnderLoad {
 public:
  static constexpr CheckInfo info{
      .id = 16,
      .slug = "stop-under-load",
      .title = "Stopped with the load on",
      .needs_one = bit(Channel::engine_speed) | bit(Channel::frequency),
      .source =
          "common practice: unload before stopping; a boost stage may "
          "else stay in at the next start",
      .details = {{{"no-load time before", Unit::s}}}};
  static constexpr When when{.phases = kAnyPhase};
  static constexpr Advice advice{
      .summary = "Stopped with {value} load still on (limit {limit})",
      .causes = {"stop button pressed without unloading first",
                 "automatic stop without an unload or cool-down step",
                 "transfer switch or breaker left closed"},
      .next = {"take the load off, let it run two to five minutes, then stop",
               "at the next start watch volts and hertz before loading: over "
               "5 % high together means a boost stage stayed in",
               "set a cool-down time if the controller has one"},
      .cautions = caution::kShock};
  static constexpr Explanation explanation{
      .sees =
          "The mean load of the last 5 s before the speed leaves its "
          "level for good.",
      .decides =
          "Load above the limit at a stop that was announced by the "
          "state column or ran down smoothly, with no alarm, no sag "
          "and no channel out of its own band before. In doubt it is "
          "an abrupt-stop.",
      .blind =
          "When the log ends with the set running, when a gap hides the "
          "stop, or where nothing tells the load.",
      .fooled =
          "A protection that trips without any sign in the log, a load "
          "meter that lags by several seconds."};

  /// In percent of rating.
  static constexpr Limits kUsual{
      .attention = level(10, 0), .side = Side::above, .unit = Unit::pct};
  static constexpr Limits limits(const Profile& profile) {
    return with_overrides(kUsual, profile, info.id);
  }
  void configure(const Profile& profile) {
    limit_ = static_cast<R>(limits(profile).attention.limit);
  }

  bool step(const Moment<R>& m, Ledger<R>&) {
    if (m.at_speed() && m.load_source != LoadSource::none) {
      source_ = m.load_source;
    }
    return false;
  }
  [[gnu::cold]] bool end_run(const Moment<R>& m, Ledger<R>& ledger) {
    const StopKind kind = kind_of(m.stop, limit_);
    if (kind == StopKind::not_seen || !load_seen()) return false;
    if (kind != StopKind::under_load) return true;
    ledger.tell({info.id, channel_of(source_), Unit::pct, Severity::attention},
                {m.stop->fall_since - seconds(5), m.stop->fall_since},
                m.stop->load_pct, limit_,
                {{in_ms<R>(m.stop->unloaded_for) * R(0.001)}});
    return true;
  }
  void reset() { source_ = LoadSource::none; }
  [[nodiscard]] Blind blind() const {
    return load_seen() ? Blind::stop_not_seen : Blind::no_load_reading;
  }

 private:
  [[nodiscard]] bool load_seen() const { return source_ != LoadSource::none; }

  R limit_{};
  LoadSource source_ = LoadSource::none;  // at speed
};

}  // namespace telltale
