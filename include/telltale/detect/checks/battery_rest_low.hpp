// battery-rest-low: battery volts at rest before the start.
#pragma once

#include <algorithm>
#include <array>
#include <span>

#include "telltale/base/compact.hpp"
#include "telltale/base/ring.hpp"
#include "telltale/base/stamp.hpp"
#include "telltale/condition/median.hpp"
#include "telltale/detect/check.hpp"

namespace telltale {

template <std::floating_point R>
class BatteryRestLow {
 public:
  static constexpr CheckInfo info{
      .id = 35,
      .slug = "battery-rest-low",
      .title = "Battery low at rest",
      .needs = bit(Channel::battery_voltage),
      .source =
          "rest volts of a flooded 12 V battery: 12.2 V is about half "
          "charged (public lists)",
      .details = {{{"seconds of rest looked at", Unit::one}}}};
  static constexpr When when{.phases = kAnyPhase};
  static constexpr Advice advice{
      .summary =
          "Battery stood at only {value} at rest before the start "
          "(limit {limit})",
      .causes = {"battery not charged up in the last runs",
                 "something drawing current while stopped",
                 "battery ageing or a cell failing"},
      .next = {"charge fully, rest some hours, measure again",
               "look for standing consumers", "have the battery load-tested"},
      .cautions = caution::kBattery};
  static constexpr Explanation explanation{
      .sees =
          "Battery volts of the last three minutes at rest before the "
          "start, the last 45 s (preheating) left out.",
      .decides =
          "Their median below the limit, from at least 30 s of rest. "
          "Doubled for 24 V.",
      .blind = "When the log begins less than 75 s before the start.",
      .fooled =
          "A true rest reading takes hours; a load on the battery reads "
          "low, a charger or a run just before reads high."};

  /// In volts, of a 12 V battery.
  static constexpr Limits kUsual{
      .attention = level(12.2F, 0), .side = Side::below, .unit = Unit::V};
  static constexpr Limits limits(const Profile& profile) {
    return with_overrides(at_battery(kUsual, profile.rating.battery_v), profile,
                          info.id);
  }
  void configure(const Profile& profile) {
    limit_ = static_cast<R>(limits(profile).attention.limit);
  }

  bool step(const Moment<R>& m, Ledger<R>& ledger) {
    if (m.began) return judge(m, ledger);
    if (m.phase == Phase::stopped && m.block != nullptr) {
      const R volts = (*m.block)[Channel::battery_voltage];
      if (volts == volts) {
        rest_.push(
            {Stamp(m.block->from), in_tenths(m.at - m.block->from), volts});
      }
    } else if (m.phase != Phase::stopped) {
      rest_.clear();
    }
    return false;
  }
  /// The rest before a run is not part of it: nothing to forget here.
  [[nodiscard]] static constexpr Blind blind() { return Blind::rest_not_seen; }

 private:
  static constexpr std::size_t kKept = 18;
  static constexpr SpanOf<R> kPreheat = seconds(45);
  static constexpr SpanOf<R> kOldest = seconds(300);
  static constexpr SpanOf<R> kLeast = seconds(30);
  struct VoltRange {
    static constexpr Fixed16::Scale kScale{0.0F, 0.0005F};
  };
  struct Rest {
    Stamp from;
    std::uint16_t tenths = 0;  // of a second, up to 109 min
    Compact<R, VoltRange> volts;

    [[nodiscard]] SpanOf<R> length() const { return {tenths * 100}; }
  };
  static std::uint16_t in_tenths(SpanOf<R> span) {
    constexpr decltype(span.ms) kMost = 0xFFFF;
    return static_cast<std::uint16_t>(std::min(span.ms / 100, kMost));
  }
  [[gnu::noinline]] bool judge(const Moment<R>& m, Ledger<R>& ledger) {
    std::array<R, kKept> volts;
    std::size_t n = 0;
    std::int64_t rested_ms = 0;
    TimeOf<R> first = m.at;
    for (std::size_t i = 0; i < rest_.size(); ++i) {
      const Rest& rest = rest_[i];
      const bool old = rest_.size() > 6 && rest.from.age(m.at) > kOldest;
      const SpanOf<R> ended = rest.from.age(m.at) - rest.length();
      if (ended < kPreheat || old) continue;
      if (n == 0) first = rest.from.full(m.at);
      volts[n++] = rest.volts;
      rested_ms += rest.length().ms;
    }
    rest_.clear();
    if (n == 0 || rested_ms < kLeast.ms || m.run->begins_in_log) return false;
    const R median = median_in_place(std::span<R>(volts.data(), n));
    if (median < limit_) {
      ledger.tell(
          {info.id, Channel::battery_voltage, Unit::V, Severity::attention},
          {first, first + SpanOf<R>{rested_ms}}, median, limit_,
          {{in_ms<R>(SpanOf<R>{rested_ms}) * R(0.001)}});
    }
    return true;
  }

  Ring<Rest, kKept> rest_;
  R limit_{};
};

}  // namespace telltale
