// early-load: over half load before the engine is warm.
#pragma once

#include "telltale/detect/check.hpp"

namespace telltale {

template <std::floating_point R>
class EarlyLoad {
 public:
  static constexpr CheckInfo info{
      .id = 15,
      .slug = "early-load",
      .title = "Loaded before it was warm",
      .needs = bit(Channel::coolant_temperature),
      .needs_one =
          bit(Channel::power) | bit(Channel::load) | bit(Channel::current_l1),
      .source =
          "common practice: many handbooks ask for coolant above 40 to "
          "60 degC before full load",
      .details = {{{"load", Unit::pct}}}};
  static constexpr When when{};
  static constexpr Advice advice{
      .summary =
          "Over half load at a coolant temperature down to {value} "
          "(warm is {limit} or more) for {for}",
      .causes = {"heavy loads left switched on from before the start",
                 "automatic transfer without a warm-up delay",
                 "warm-up cut short"},
      .next = {"let it run lightly loaded until the coolant has passed 40 degC",
               "set or lengthen the transfer delay",
               "switch the big consumers off before starting"},
      .cautions = 0};
  static constexpr Explanation explanation{
      .sees = "Load and coolant temperature of the same reading, at speed.",
      .decides =
          "Coolant below the limit while the load is over half of the "
          "rating, for 30 s.",
      .blind =
          "Without a coolant temperature, or where the rating is not "
          "known.",
      .fooled =
          "A coolant sender that reads low: then coolant-cold speaks "
          "up as well."};

  /// Coolant temperature in degC while over half load.
  static constexpr Limits kUsual{
      .attention = level(40, 30), .side = Side::below, .unit = Unit::degC};
  static constexpr Limits limits(const Profile& profile) {
    return with_overrides(kUsual, profile, info.id);
  }
  void configure(const Profile& profile) { edge_ = rule(profile).edge(); }

  bool step(const Moment<R>& m, Ledger<R>& ledger) {
    const auto& coolant = m[Channel::coolant_temperature];
    if (!m.load_rated || !(m.load_pct == m.load_pct) || !coolant.usable()) {
      rated_ = m.load_rated;
      return false;
    }
    rated_ = true;
    // At half load or less any temperature will do.
    const R judged = m.load_pct > kHalf ? coolant.value : R(1000);
    if (ledger.minds(info.id, judged, edge_, Side::below)) {
      ledger.watch(m, kAbout, judged, rule);
    }
    return true;
  }
  [[nodiscard]] Blind blind() const {
    return rated_ ? Blind::no_load_reading : Blind::no_rating;
  }

 private:
  static constexpr R kHalf = R(50);
  static constexpr About kAbout{info.id, Channel::coolant_temperature,
                                Unit::degC};

  static LatchRule<R> rule(const Profile& profile) {
    return LatchRule<R>::of(limits(profile), R(1));
  }

  R edge_{};
  bool rated_ = false;
};

}  // namespace telltale
