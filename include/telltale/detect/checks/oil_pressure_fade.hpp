// oil-pressure-fade: oil pressure below the line that temperature and speed
// explain.
#pragma once

#include <algorithm>
#include <cmath>

#include "telltale/condition/oil_line.hpp"
#include "telltale/condition/oil_viscosity.hpp"
#include "telltale/detect/check.hpp"

namespace telltale {

template <std::floating_point R>
class OilPressureFade {
 public:
  static constexpr CheckInfo info{
      .id = 21,
      .slug = "oil-pressure-fade",
      .title = "Oil pressure below its own line",
      .needs = bit(Channel::oil_pressure),
      .needs_one =
          bit(Channel::oil_temperature) | bit(Channel::coolant_temperature),
      .source =
          "common practice: compare at equal temperature and speed; "
          "viscosity-temperature relation of ASTM D341",
      .details = {{{"expected", Unit::kPa},
                   {"measured", Unit::kPa},
                   {"at", Unit::degC},
                   {"line reaches up to", Unit::degC}}}};
  static constexpr When when{.block = true};
  static constexpr Advice advice{
      .summary =
          "Oil pressure was {value} below what its temperature "
          "explains (limit {limit}) for {for}: {d1} instead of {d0} at "
          "{d2}",
      .causes = {"oil thinning: fuel in the oil, or oil at the end of its life",
                 "oil level falling", "relief valve leaking or weak",
                 "filter or pick-up clogging",
                 "bearing wear, if it returns after an oil change",
                 "sender drifting"},
      .next = {"check the level; smell and feel the oil for fuel",
               "change oil and filter, then compare at the same temperature",
               "compare with a mechanical gauge when hot",
               "have a sample of the oil analysed",
               "look at the season's trend of hot oil pressure"},
      .cautions = caution::kHotOil};
  static constexpr Explanation explanation{
      .sees =
          "10 s means of oil pressure and of the oil's temperature (where "
          "that is not logged, of the coolant, once both have settled), "
          "scaled to one speed.",
      .decides =
          "The line is the set's own, from the profile or the store; "
          "else it is learnt from the first third of the run so far: "
          "for each temperature a local straight line over the "
          "logarithm of viscosity by ASTM D341, so that warming up is "
          "no fade. D341 is used instead of a plain fit because a few "
          "degrees beyond the learnt range must be bridged. Pressure "
          "must stay below the line by the limit for 5 min.",
      .blind =
          "More than 5 K outside the temperatures learnt from (unless "
          "the line is the set's own), in the first minutes, and by "
          "coolant in the first half hour from cold: the oil warms "
          "later than the coolant.",
      .fooled =
          "An oil-temperature sender that reads far from the bearings; "
          "a fade that was there from the very start of the run: only "
          "the set's own line shows that."};

  /// In percent below the line.
  static constexpr Limits kUsual{.attention = level(10, 300),
                                 .urgent = level(25, 300),
                                 .side = Side::above,
                                 .unit = Unit::pct};
  static constexpr Limits limits(const Profile& profile) {
    return with_overrides(kUsual, profile, info.id);
  }

  bool step(const Moment<R>& m, Ledger<R>& ledger) {
    const Block<R>& block = *m.block;
    const R measured = block[Channel::oil_pressure];
    if (is_set(m.sag_since) || !(measured == measured)) return false;
    const R celsius = temperature(m);
    if (!(celsius == celsius)) return false;
    const R kpa = measured * to_one_speed(m);
    if (!(kpa == kpa)) return false;
    const R line = expected(m.profile->oil_line, celsius);
    if (!(line > R(0))) {
      fit_.add(block.length, celsius, kpa, true);
      return false;
    }
    const R below = R(100) * (R(1) - kpa / line);
    const LatchRule<R> rule = LatchRule<R>::of(limits(*m.profile), R(2));
    if (ledger.minds(info.id, below, rule.edge(), rule.side)) {
      ledger.watch(m, kAbout, below, rule,
                   {{line, kpa, celsius,
                     m.profile->oil_line.known
                         ? static_cast<R>(m.profile->oil_line.high_degc)
                         : fit_.highest()}});
    }
    fit_.add(block.length, celsius, kpa, below < kSuspect);
    return true;
  }
  void reset() {
    fit_.clear();
    lagged_ = level_ = load_ = Finding<R>::kNone;
  }
  [[nodiscard]] static constexpr Blind blind() { return Blind::no_baseline; }
  /// What the run has taught so far, and at which share of nominal speed.
  [[nodiscard]] const OilLineFit<R>& learnt() const { return fit_; }
  [[nodiscard]] R learnt_at() const { return level_; }

 private:
  static constexpr R kSuspect = R(4);        // % below the line
  static constexpr R kLagMs = R(480'000);    // oil behind coolant, some 8 min
  static constexpr R kCaughtUp = R(3);       // K
  static constexpr R kSpeedRange = R(0.06);  // of the speed learnt at
  static constexpr R kLoadRange = R(20);     // % of rating, by coolant
  static constexpr SpanOf<R> kAfterStart = seconds(90);
  static constexpr SpanOf<R> kCoolantSettle = minutes(15);

  static constexpr About kAbout{info.id, Channel::oil_pressure, Unit::pct};

  /// The temperature to go by; NaN while it can't be trusted to explain
  /// anything.
  R temperature(const Moment<R>& m) {
    const Block<R>& block = *m.block;
    const R oil = block[Channel::oil_temperature];
    const R coolant = block[Channel::coolant_temperature];
    const OilLine& own = m.profile->oil_line;
    const bool by_coolant =
        own.known ? own.by_coolant : m.lacks(Channel::oil_temperature);
    const bool started =
        m.run->begins_in_log || m.since_running() >= kAfterStart;
    if (!by_coolant) return started ? oil : Finding<R>::kNone;
    // Oil follows the coolant late: wait until a lagged copy has caught up.
    if (!(coolant == coolant)) return coolant;
    if (!(lagged_ == lagged_)) {
      lagged_ = m.run->begins_in_log ? coolant - R(30) : coolant;
    }
    const R step = in_ms<R>(block.length) / kLagMs;
    lagged_ += (step < R(1) ? step : R(1)) * (coolant - lagged_);
    const bool settled = m.since_running() >= kCoolantSettle &&
                         std::abs(coolant - lagged_) < kCaughtUp;
    if (!settled) return Finding<R>::kNone;
    // The coolant is held by its thermostat while more load heats the oil.
    const R load = block.load_pct;
    if (!(load_ == load_)) load_ = load;
    if (std::abs(load - load_) > kLoadRange) return Finding<R>::kNone;
    load_ += R(0.05) * (load - load_);
    return coolant;
  }
  /// Pump flow goes with speed and pressure with it, near enough for the few
  /// percent of droop. NaN where the speed is too far from where it was learnt.
  R to_one_speed(const Moment<R>& m) {
    // Frequency is the surer measure of speed where both are logged.
    const R hz = (*m.block)[Channel::frequency] /
                 static_cast<R>(m.profile->rating.frequency_hz);
    const bool by_hz = !m.lacks(Channel::frequency) &&
                       is_known(m.profile->rating.frequency_hz);
    const R now = by_hz ? hz : m.turn_level;
    if (!(level_ == level_)) level_ = now;
    if (!(std::abs(now / level_ - R(1)) < kSpeedRange)) {
      return Finding<R>::kNone;
    }
    return level_ / now;
  }
  [[nodiscard]] R expected(const OilLine& own, R celsius) const {
    if (!own.known) return fit_.expected(celsius);
    // Colder, the relief valve holds the pressure and the line runs too high.
    if (celsius < static_cast<R>(own.low_degc) - OilLineFit<R>::kBeyond) {
      return Finding<R>::kNone;
    }
    return static_cast<R>(own.intercept_kpa) +
           static_cast<R>(own.slope_kpa) * log_viscosity(celsius);
  }

  OilLineFit<R> fit_;
  R lagged_ = Finding<R>::kNone;
  R load_ = Finding<R>::kNone;
  R level_ = Finding<R>::kNone;
};

}  // namespace telltale
