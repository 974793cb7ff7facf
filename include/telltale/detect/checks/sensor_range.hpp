// sensor-range: readings outside what is physically possible.
#pragma once

#include <cstdint>

#include "telltale/base/box.hpp"
#include "telltale/base/slots.hpp"
#include "telltale/base/stamp.hpp"
#include "telltale/detect/check.hpp"

namespace telltale {

template <std::floating_point R>
class SensorRange {
 public:
  static constexpr CheckInfo info{
      .id = 43,
      .slug = "sensor-range",
      .title = "Reading physically impossible",
      .source =
          "NAMUR NE 107: a failed device status, kept apart from the "
          "machine; ranges in acquire/channels.def: common practice",
      .details = {{{"readings", Unit::one}}}};
  static constexpr When when{.phases = kAnyPhase};
  static constexpr Advice advice{
      .summary =
          "{channel} read {value}, which is physically impossible "
          "(limit {limit})",
      .causes = {"sender open or shorted",
                 "wrong sender or scaling in the controller",
                 "wrong unit for the column: see how the log was read"},
      .next = {"check plug and cable of the sender",
               "check the sender's resistance or output against its table",
               "if the unit was misread, correct it once with --save-map and "
               "--map"},
      .cautions = 0};
  static constexpr Explanation explanation{
      .sees = "Every reading of every channel, running or not.",
      .decides =
          "Three readings outside the channel's possible range. They "
          "are condemned: no other check judges them.",
      .blind = "Never.",
      .fooled = "A wrong unit in the header."};

  /// Number of impossible readings.
  static constexpr Limits kUsual{
      .attention = level(3, 0), .unit = Unit::one, .inclusive = true};
  static constexpr Limits limits(const Profile& profile) {
    return with_overrides(kUsual, profile, info.id);
  }
  void configure(const Profile& profile) {
    limit_ = limits(profile).attention.limit;
  }

  bool step(const Moment<R>& m, Ledger<R>& ledger) {
    for_each_bit(m.frame->with(Quality::implausible), [&](std::size_t i) {
      Tally* const slot = tallies_.get(i);
      if (slot == nullptr) return;
      Tally& tally = *slot;
      if (tally.n == 0) tally.first = Stamp(m.at);
      if (tally.n < 0xFFFF) ++tally.n;
      if (static_cast<float>(tally.n) < limit_) return;
      const std::uint16_t needed = static_cast<std::uint16_t>(limit_);
      if (tally.n == needed) tell(m, i, tally, FindingEvent::opened, ledger);
      tally.last = Stamp(m.at);
      tally.value = m.frame->values[i];
    });
    return true;
  }
  [[gnu::cold]] void end_run(const Moment<R>& m, Ledger<R>& ledger) {
    for (const auto& [tally, i] : tallies_) {
      if (static_cast<float>(tally.n) >= limit_) {
        tell(m, i, tally, FindingEvent::closed, ledger);
      }
    }
  }
  void reset() { tallies_.clear(); }

 private:
  struct Tally {
    Stamp first;
    Stamp last;
    R value = R(0);
    std::uint16_t n = 0;
  };

  [[gnu::cold]] void tell(const Moment<R>& m, std::size_t i, const Tally& tally,
                          FindingEvent event, Ledger<R>& ledger) {
    const ChannelMeasure& channel = kMeasures[i];
    const bool opening = event == FindingEvent::opened;
    const R value = opening ? m.frame->values[i] : tally.value;
    const bool high = value > static_cast<R>(channel.high);
    ledger.tell(
        {info.id, static_cast<Channel>(i), kUnits[i], Severity::attention},
        {tally.first.full(m.at), opening ? m.at : tally.last.full(m.at)}, value,
        static_cast<R>(high ? channel.high : channel.low),
        {{static_cast<R>(tally.n)}}, event);
  }

  /// On the box more channels than these go unmarked in one run.
  Slots<Tally, room<R>(kChannelCount, 6)> tallies_;
  float limit_{};
};

}  // namespace telltale
