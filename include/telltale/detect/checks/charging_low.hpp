// charging-low: battery volts once charging should be up.
#pragma once

#include <algorithm>
#include <array>
#include <span>

#include "telltale/base/ring.hpp"
#include "telltale/base/stamp.hpp"
#include "telltale/condition/median.hpp"
#include "telltale/detect/check.hpp"

namespace telltale {

template <std::floating_point R>
class ChargingLow {
 public:
  static constexpr CheckInfo info{
      .id = 31,
      .slug = "charging-low",
      .title = "Battery not charging",
      .needs = bit(Channel::battery_voltage),
      .source =
          "common practice: a charging 12 V battery reads over 13 V; "
          "below 12.4 V it is being discharged",
      .details = {{{"minutes after the start", Unit::one}}}};
  static constexpr When when{.block = true};
  static constexpr Advice advice{
      .summary =
          "Battery stood at only {value} while running (charging should "
          "hold {limit} or more), for {for}",
      .causes = {"alternator belt slipping or broken",
                 "alternator or regulator failed",
                 "corroded or loose charging connection",
                 "charging fuse or isolator open",
                 "battery shorted or far below its charge"},
      .next = {"check the belt, engine stopped and locked out",
               "measure at the alternator's output and at the battery posts: "
               "over 0.5 V apart is a bad connection",
               "check the charging fuse and isolator",
               "have the battery load-tested"},
      .cautions = caution::kBattery | caution::kRotating};
  static constexpr Explanation explanation{
      .sees = "Battery volts as 10 s means, from 5 min after the start.",
      .decides =
          "The median of the last 60 s (at least three means) below "
          "the limit. Doubled for 24 V.",
      .blind = "In the first 5 min of running.",
      .fooled =
          "Volts measured far from the battery; a set that has no "
          "charging alternator of its own."};

  /// In volts, of a 12 V battery; the delay counts from the start.
  static constexpr Limits kUsual{.attention = level(13.0F, 300),
                                 .urgent = level(12.4F, 300),
                                 .side = Side::below,
                                 .unit = Unit::V};
  static constexpr Limits limits(const Profile& profile) {
    return with_overrides(at_battery(kUsual, profile.rating.battery_v), profile,
                          info.id);
  }

  bool step(const Moment<R>& m, Ledger<R>& ledger) {
    const R volts = (*m.block)[Channel::battery_voltage];
    LatchRule<R> rule = LatchRule<R>::of(limits(*m.profile), R(0.05));
    if (!(volts == volts) || m.since_running() < rule.low.delay()) return false;
    rule.low.delay_ms = rule.high.delay_ms = 0;
    rule.readings = 1;
    // 60 s, or as long as three readings take.
    const SpanOf<R> window{std::max(kWindow.ms, m.interval.ms * 4)};
    while (!recent_.empty() && recent_.front().at.age(m.at) > window) {
      recent_.pop();
    }
    recent_.push({Stamp(m.block->from), volts});
    if (recent_.size() < 3) return false;
    std::array<R, kKept> sorted;
    R lowest = volts;
    for (std::size_t i = 0; i < recent_.size(); ++i) {
      sorted[i] = recent_[i].volts;
      lowest = sorted[i] < lowest ? sorted[i] : lowest;
    }
    // Where not even the lowest is too low, the median is not.
    if (!ledger.minds(info.id, lowest, rule.edge(), Side::below)) return true;
    const R median =
        median_in_place(std::span<R>(sorted.data(), recent_.size()));
    ledger.watch(m, kAbout, median, rule,
                 {{in_ms<R>(m.since_running()) / R(60000)}});
    return true;
  }
  void reset() { recent_.clear(); }
  [[nodiscard]] static constexpr Blind blind() { return Blind::too_short; }

 private:
  static constexpr std::size_t kKept = 6;
  static constexpr SpanOf<R> kWindow = seconds(65);
  struct Mean {
    Stamp at;
    R volts;
  };

  static constexpr About kAbout{info.id, Channel::battery_voltage, Unit::V};

  Ring<Mean, kKept> recent_;
};

}  // namespace telltale
