// exhaust-climb: a slow rise of the wet exhaust at comparable load.
#pragma once

#include "telltale/base/compact.hpp"
#include "telltale/condition/slope_window.hpp"
#include "telltale/detect/check.hpp"

namespace telltale {

template <std::floating_point R>
class ExhaustClimb {
 public:
  static constexpr CheckInfo info{
      .id = 29,
      .slug = "exhaust-climb",
      .title = "Exhaust keeps climbing",
      .needs = bit(Channel::exhaust_temperature),
      .source = "common practice",
      .details = {{{"from", Unit::degC}, {"to", Unit::degC}}}};
  static constexpr When when{.block = true};
  static constexpr Advice advice{
      .summary =
          "Wet exhaust climbed at {value} at comparable load (limit "
          "{limit}), from {d0} to {d1} in 10 min",
      .causes = {"raw-water flow getting less: strainer filling, weed",
                 "impeller wearing or losing vanes",
                 "injection elbow or heat exchanger scaling",
                 "boat moving into much warmer water"},
      .next = {"look at the flow at the exhaust outlet",
               "clean the strainer; check the impeller",
               "check the injection elbow for scale",
               "compare with the raw-water temperature"},
      .cautions = caution::kExhaust};
  static constexpr Explanation explanation{
      .sees =
          "Exhaust temperature after the raw-water injection, less what "
          "the raw water itself climbed where that is logged, as 30 s "
          "means over 10 min.",
      .decides =
          "The slope over 10 min above the limit, and no less in the "
          "second half, in a window that begins 5 min after the start "
          "or the last change of load by over 10 % of rating and once "
          "the coolant has stopped rising.",
      .blind = "With a dry exhaust sensor, and where nothing tells the load.",
      .fooled = "Warmer sea water where no raw-water temperature is logged."};

  /// In degC a minute.
  static constexpr Limits kUsual{.attention = level(0.3F, 600),
                                 .side = Side::above,
                                 .unit = Unit::K_per_min};
  static constexpr Limits limits(const Profile& profile) {
    return with_overrides(kUsual, profile, info.id);
  }
  void configure(const Profile& profile) {
    wet_ = profile.rating.exhaust != Exhaust::dry;
  }

  bool step(const Moment<R>& m, Ledger<R>& ledger) {
    if (!wet_) return blinded(Blind::not_this_kind);
    if (m.load_source == LoadSource::none) {
      return blinded(Blind::no_load_reading);
    }
    blind_ = Blind::never_settled;
    const Block<R>& block = *m.block;
    const R exhaust = block[Channel::exhaust_temperature];
    if (!(exhaust == exhaust)) return false;
    if (!explains_nothing(m)) {
      window_.clear();
      sea_.clear();
      return false;
    }
    const R sea = block[Channel::raw_water_temperature];
    if (sea == sea) sea_.add(block.length, sea);
    if (!window_.add(block.length, exhaust) || !window_.full()) {
      return window_.full();
    }
    const Level level = limits(*m.profile).attention;
    const R limit = static_cast<R>(level.limit);
    const R rate = window_.per_minute() - sea_climb();
    if (rate > limit && window_.per_minute(R(0.5)) - sea_climb() > limit &&
        window_.end_to_end_per_minute() - sea_climb() > limit) {
      ledger.hold({info.id, Channel::exhaust_temperature, Unit::K_per_min,
                   Severity::attention},
                  {m.at - level.delay(), m.at}, rate, limit,
                  {{window_.oldest(), window_.newest()}});
    } else {
      ledger.close_after(info.id, m.at, minutes(5));
    }
    return true;
  }
  void reset() {
    window_.clear();
    sea_.clear();
    coolant_.clear();
    blind_ = Blind::never_steady;
  }
  [[nodiscard]] Blind blind() const { return blind_; }

 private:
  static constexpr SpanOf<R> kExplained = minutes(5);
  static constexpr SpanOf<R> kWarmUp = minutes(20);
  static constexpr R kWarmingRate = R(0.5);  // degC a minute

  bool blinded(Blind why) {
    blind_ = why;
    return false;
  }
  /// What warmer sea water explains, degC a minute; colder water explains
  /// nothing.
  [[nodiscard]] R sea_climb() const {
    const R rate = sea_.full() ? sea_.per_minute() : R(0);
    return rate > R(0) ? rate : R(0);
  }
  /// Neither start, load nor warming up can explain a rise now.
  bool explains_nothing(const Moment<R>& m) {
    const R coolant = (*m.block)[Channel::coolant_temperature];
    if (coolant == coolant) coolant_.add(m.block->length, coolant);
    const bool fresh = !m.run->begins_in_log && m.since_running() < kExplained;
    if (fresh || m.since_load_move() < kExplained) return false;
    if (m.run->begins_in_log || m.since_running() >= kWarmUp) return true;
    return coolant_.full() && coolant_.per_minute() < kWarmingRate;
  }

  using Celsius = Compact<R, CelsiusRange>;

  SlopeWindow<R, 20, minutes(10), Celsius> window_;
  SlopeWindow<R, 5, minutes(10), Celsius> sea_;
  SlopeWindow<R, 4, minutes(2), Celsius> coolant_;
  Blind blind_ = Blind::never_steady;
  bool wet_{};
};

}  // namespace telltale
