// light-load: share of running time below 30 % of rating.
#pragma once

#include "telltale/detect/check.hpp"

namespace telltale {

template <std::floating_point R>
class LightLoad {
 public:
  static constexpr CheckInfo info{
      .id = 13,
      .slug = "light-load",
      .title = "Long running at light load",
      .needs_one =
          bit(Channel::power) | bit(Channel::load) | bit(Channel::current_l1),
      .source =
          "NFPA 110 8.4.2 asks 30 % of nameplate; guidance against "
          "carbon and glazing: common practice",
      .details = {{{"hours running", Unit::h}, {"hours below 30 %", Unit::h}}}};
  static constexpr When when{.block = true};
  static constexpr Advice advice{
      .summary =
          "{value} of the running time was below 30 % of rating "
          "(limit {limit}): {d1} of {d0}",
      .causes = {"set too large for the usual load",
                 "left running when shore power or batteries would do",
                 "loads that were expected did not come on"},
      .next = {"run it at 50 to 75 % of rating for 30 to 60 min to burn it "
               "clean",
               "gather loads: charge batteries, heat water, make ice together",
               "look for black soot or oil at the exhaust outlet"},
      .cautions = caution::kExhaust};
  static constexpr Explanation explanation{
      .sees = "All time at speed, no-load included, as 10 s means of load.",
      .decides =
          "Share of that time below 30 % of rating, told at the end "
          "of the run: a note above half of a run over 1 h, attention "
          "above 80 % of a run over 3 h. Needs the whole run.",
      .blind = "Where the rating is not known; in runs under 1 h.",
      .fooled =
          "Long cool-downs and tests without load count as they should: "
          "the engine does not know why."};

  /// In percent of the running time.
  static constexpr Limits kUsual{.note = level(50, 3600),
                                 .attention = level(80, 3 * 3600),
                                 .side = Side::above,
                                 .unit = Unit::pct};
  static constexpr Limits limits(const Profile& profile) {
    return with_overrides(kUsual, profile, info.id);
  }

  bool step(const Moment<R>& m, Ledger<R>&) {
    const R load = m.block->load_pct;
    if (!m.load_rated || !(load == load)) {
      blind_ = m.load_rated ? Blind::no_load_reading : Blind::no_rating;
      return false;
    }
    source_ = m.load_source;
    all_ = all_ + m.block->length;
    if (load < kLight) light_ = light_ + m.block->length;
    blind_ = Blind::too_short;
    return all_ > limits(*m.profile).note.delay();
  }
  [[gnu::cold]] void end_run(const Moment<R>& m, Ledger<R>& ledger) {
    const R share = R(100) * in_ms<R>(light_) / in_ms<R>(all_);
    const Limits bounds = limits(*m.profile);
    const Level* passed = nullptr;
    Severity severity = Severity::note;
    if (all_ > bounds.note.delay() &&
        share > static_cast<R>(bounds.note.limit)) {
      passed = &bounds.note;
    }
    if (all_ > bounds.attention.delay() &&
        share > static_cast<R>(bounds.attention.limit)) {
      passed = &bounds.attention;
      severity = Severity::attention;
    }
    if (passed == nullptr) return;
    constexpr R kPerHour = R(1) / R(3600000);
    ledger.tell({info.id, channel_of(source_), Unit::pct, severity},
                {m.run->at_speed_since, m.at}, share,
                static_cast<R>(passed->limit),
                {{in_ms<R>(all_) * kPerHour, in_ms<R>(light_) * kPerHour}});
  }
  void reset() {
    all_ = light_ = SpanOf<R>{};
    blind_ = Blind::never_steady;
  }
  [[nodiscard]] Blind blind() const { return blind_; }

 private:
  static constexpr R kLight = R(30);

  SpanOf<R> all_{};
  SpanOf<R> light_{};
  Blind blind_ = Blind::never_steady;
  LoadSource source_ = LoadSource::none;
};

}  // namespace telltale
