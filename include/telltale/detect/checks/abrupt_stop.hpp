// abrupt-stop: the speed fell from on-load with no unloading.
#pragma once

#include "telltale/detect/check.hpp"
#include "telltale/detect/stop_kind.hpp"

namespace telltale {

template <std::floating_point R>
class AbruptStop {
 public:
  static constexpr CheckInfo info{
      .id = 18,
      .slug = "abrupt-stop",
      .title = "Stopped by itself, on load",
      .needs_one = bit(Channel::engine_speed) | bit(Channel::frequency),
      .source = "common practice: a set does not stop on load unless made to",
      .details = {
          {{"first out", Unit::one}, {"seconds before the stop", Unit::s}}}};
  static constexpr When when{.phases = kAnyPhase};
  static constexpr Advice advice{
      .summary = "Stopped from {value} load with no unloading before",
      .causes = {"a protection stopped it: oil pressure, coolant or exhaust "
                 "temperature, overspeed",
                 "fuel supply cut: tank, valve, filter, air, stop solenoid",
                 "electrical overload or short circuit", "mechanical seizure"},
      .next = {"do not restart before the cause is known",
               "start where the first channel left its own band",
               "check oil level, raw-water flow, coolant level and belts",
               "check fuel: level, valves, filter, water trap",
               "turn the engine by hand before the starter is used again"},
      .cautions = caution::kShock | caution::kWater | caution::kExhaust |
                  caution::kCoolant};
  static constexpr Explanation explanation{
      .sees =
          "The last 5 s of load, the run-down of the speed, alarms and "
          "states, and the own bands of ten channels in the minutes "
          "before.",
      .decides =
          "The load was still on and an alarm rose, a channel had left "
          "its own band, the speed had sagged within the last minute, "
          "or nothing showed a controlled stop. The first channel "
          "out is named.",
      .blind =
          "When the log ends with the set running, when a gap hides the "
          "stop, or where nothing tells the load.",
      .fooled =
          "An emergency stop pressed on purpose; a load meter that "
          "lags by several seconds."};

  /// Load in percent of rating that counts as on load.
  static constexpr Limits kUsual{
      .urgent = level(10, 0), .side = Side::above, .unit = Unit::pct};
  static constexpr Limits limits(const Profile& profile) {
    return with_overrides(kUsual, profile, info.id);
  }
  void configure(const Profile& profile) {
    limit_ = static_cast<R>(limits(profile).urgent.limit);
  }

  bool step(const Moment<R>& m, Ledger<R>&) {
    if (m.at_speed() && m.load_source != LoadSource::none) load_seen_ = true;
    return false;
  }
  [[gnu::cold]] bool end_run(const Moment<R>& m, Ledger<R>& ledger) {
    const StopKind kind = kind_of(m.stop, limit_);
    if (kind == StopKind::not_seen || !load_seen_) return false;
    if (kind != StopKind::abrupt) return true;
    const StopFacts<R>& stop = *m.stop;
    Details<R> details;
    if (stop.first_out != Channel::none) {
      details.of[0] = static_cast<R>(index_of(stop.first_out));
      details.of[1] =
          in_ms<R>(stop.fall_since - stop.first_out_since) * R(0.001);
    }
    ledger.tell({info.id, Channel::engine_speed, Unit::pct, Severity::urgent},
                {stop.fall_since, m.run->end}, stop.load_pct, limit_, details);
    return true;
  }
  void reset() { load_seen_ = false; }
  [[nodiscard]] Blind blind() const {
    return load_seen_ ? Blind::stop_not_seen : Blind::no_load_reading;
  }

 private:
  R limit_{};
  bool load_seen_ = false;
};

}  // namespace telltale
