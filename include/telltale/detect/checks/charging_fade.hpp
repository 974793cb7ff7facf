// charging-fade: battery volts keep falling while running.
#pragma once

#include <algorithm>
#include <array>
#include <cmath>
#include <span>

#include "telltale/base/stamp.hpp"
#include "telltale/condition/thinned_series.hpp"
#include "telltale/condition/trend.hpp"
#include "telltale/detect/check.hpp"

namespace telltale {

template <std::floating_point R>
class ChargingFade {
 public:
  static constexpr CheckInfo info{
      .id = 33,
      .slug = "charging-fade",
      .title = "Charging fades",
      .needs = bit(Channel::battery_voltage),
      .source =
          "common practice: charging volts hold or rise as time goes "
          "on; Mann-Kendall p < 0.01 corrected for serial correlation",
      .details = {{{"settled", Unit::V}, {"now", Unit::V}, {"z", Unit::one}}}};
  static constexpr When when{.block = true};
  static constexpr Advice advice{
      .summary =
          "Battery volts fell by {value} while running (limit {limit}), "
          "from {d0} to {d1}",
      .causes = {"alternator belt slipping as it warms",
                 "alternator or regulator weakening when hot",
                 "connection heating up",
                 "more taken from the battery than the alternator gives"},
      .next = {"check belt tension, engine stopped and locked out",
               "measure charging volts cold and after an hour",
               "feel the charging connections for heat, engine stopped",
               "add up what the battery feeds"},
      .cautions = caution::kBattery | caution::kRotating};
  static constexpr Explanation explanation{
      .sees =
          "Battery volts from 10 min after the start, thinned to at most "
          "48 means.",
      .decides =
          "The first settled 5 min against the last 5 min: a fall by "
          "more than the limit that is significant (Mann-Kendall, "
          "p < 0.01, corrected for serial correlation) and either has gone "
          "on for 20 min or ends below 13.2 V. A step down to a level that "
          "holds at 13.2 V or above is a charger going to float and no "
          "finding.",
      .blind = "In runs under half an hour.",
      .fooled =
          "Temperature-compensated charging in an engine room that "
          "heats up a great deal: some 30 mV per K on 12 V."};

  /// In volts, of a 12 V battery.
  static constexpr Limits kUsual{
      .attention = level(0.3F, 600), .side = Side::above, .unit = Unit::V};
  static constexpr Limits limits(const Profile& profile) {
    return with_overrides(at_battery(kUsual, profile.rating.battery_v), profile,
                          info.id);
  }
  void configure(const Profile& profile) {
    scale_ = profile.rating.battery_v > 18.0F ? R(2) : R(1);
  }

  bool step(const Moment<R>& m, Ledger<R>& ledger) {
    const R volts = (*m.block)[Channel::battery_voltage];
    if (!(volts == volts) ||
        m.since_running() < limits(*m.profile).attention.delay())
      return false;
    const bool completed = series_.add(m.block->length, {volts});
    // Five minutes at either end and something between them.
    if (series_.size() < kLeastPoints || series_.span() < minutes(15)) {
      return false;
    }
    if (completed) judge(m, ledger);
    return true;
  }
  void reset() {
    series_.clear();
    falling_ = false;
  }
  [[nodiscard]] static constexpr Blind blind() { return Blind::too_short; }

 private:
  static constexpr std::size_t kPoints = 48;
  static constexpr std::size_t kLeastPoints = 8;
  static constexpr R kFloat = R(13.2);
  static constexpr R kHeld = R(13.1);
  static constexpr R kStillFalling = R(0.05);
  static constexpr R kBegun = R(0.3);    // of the fall: it is under way
  static constexpr R kAsFast = R(0.75);  // as on average
  static constexpr SpanOf<R> kNoFloat = minutes(20);

  [[nodiscard]] R mean(std::size_t from, std::size_t count) const {
    R sum = R(0);
    for (std::size_t i = 0; i < count; ++i) sum += series_[from + i][0];
    return sum / static_cast<R>(count);
  }
  /// The last quarter of an hour fell, and not much slower than the whole fall
  /// did on average: what is running out into a level is a charger's float.
  [[nodiscard]] bool still_falling(std::size_t n, std::size_t five, R settled,
                                   R fall) const {
    const std::size_t back = 3 * five;
    if (n < back + five) return false;
    const R lately = mean(n - back - five, five) - mean(n - five, five);
    if (!(lately > kStillFalling * scale_)) return false;
    const R begun = kBegun * fall;
    const R quarters =
        in_ms<R>(onset_age(settled, begun)) / in_ms<R>(minutes(15));
    return lately > kAsFast * (fall - begun) / quarters;
  }
  [[gnu::noinline]] void judge(const Moment<R>& m, Ledger<R>& ledger) {
    const std::size_t n = series_.size();
    constexpr auto kFive = static_cast<std::uint32_t>(minutes(5).ms);
    const std::size_t five = std::max<std::uint32_t>(
        1, kFive / static_cast<std::uint32_t>(series_.cell().ms));
    const R settled = mean(0, five);
    const R now = mean(n - five, five);
    const R fall = settled - now;
    const R limit = static_cast<R>(limits(*m.profile).attention.limit);
    if (!(fall > limit)) {
      falling_ = false;
      return;
    }
    const bool falling = still_falling(n, five, settled, fall);
    // A level that holds a little below a float's is one all the same.
    const bool drained = now < (falling ? kFloat : kHeld) * scale_;
    if (!falling) falling_ = false;
    if (falling && !falling_) {
      falling_ = true;
      falling_since_ = Stamp(m.at);
    }
    // A charger that goes to float falls too, but not for long.
    const bool for_long = falling_ && falling_since_.age(m.at) >= kNoFloat;
    if (!drained && !for_long) return;
    std::array<R, kPoints> values;
    std::array<R, kPoints> scratch;
    for (std::size_t i = 0; i < n; ++i) values[i] = series_[i][0];
    const R z = corrected_z(std::span<const R>(values.data(), n),
                            std::span<R>(scratch), 3);
    // One lasting step down is significant by its size; a slope by its rank.
    if (!(z < -static_cast<R>(kZ99))) return;
    const TimeOf<R> since = m.at - onset_age(settled, R(0.5) * limit);
    ledger.hold(
        {info.id, Channel::battery_voltage, Unit::V, Severity::attention},
        {since, m.at}, fall, limit, {{settled, now, z}});
  }
  /// How long ago the volts fell by `much` for good.
  [[nodiscard]] SpanOf<R> onset_age(R settled, R much) const {
    std::size_t i = series_.size();
    while (i > 0 && settled - series_[i - 1][0] > much) --i;
    return {series_.cell().ms * static_cast<std::int64_t>(series_.size() - i)};
  }

  struct Scales {  // volts
    static constexpr Fixed16::Scale kScales[] = {{0.0F, 0.0005F}};
  };

  ThinnedSeries<R, 1, kPoints, seconds(30), KeptByRoom<R, 1, Scales>> series_;
  R scale_{};
  Stamp falling_since_;
  bool falling_ = false;
};

}  // namespace telltale
