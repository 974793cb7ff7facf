// sensor-spike: single readings far off both neighbours.
#pragma once

#include <cstdint>

#include "telltale/base/box.hpp"
#include "telltale/base/slots.hpp"
#include "telltale/base/stamp.hpp"
#include "telltale/detect/check.hpp"

namespace telltale {

template <std::floating_point R>
class SensorSpike {
 public:
  static constexpr CheckInfo info{
      .id = 44,
      .slug = "sensor-spike",
      .title = "Single readings far off",
      .source =
          "NAMUR NE 107: a device status, kept apart from the machine; "
          "common practice",
      .details = {{{"spikes", Unit::one},
                   {"share of readings", Unit::pct},
                   {"a spike read", Unit::one}}}};
  static constexpr When when{.phases = kAnyPhase};
  static constexpr Advice advice{
      .summary =
          "{channel} showed {d0} single readings far off both "
          "neighbours ({value} of its readings)",
      .causes = {"loose plug or chafed cable",
                 "interference from ignition, radio or a charger",
                 "bus error that the controller passed on"},
      .next = {"move plug and cable while watching the reading",
               "check screen and earth of the sensor cable"},
      .cautions = 0};
  static constexpr Explanation explanation{
      .sees = "Every reading against the one before and the one after.",
      .decides =
          "Off both by more than the channel can do there and back, "
          "while the two agree. Amps and power never count, volts, "
          "hertz and speed only when nothing that must move along has "
          "moved: motors start in less than an interval. Spikes are "
          "condemned: no other check judges them. From 1 % of the "
          "readings on it is for attention.",
      .blind = "Never.",
      .fooled = "A real excursion shorter than the interval."};

  /// In percent of the channel's readings; a single one is a note.
  static constexpr Limits kUsual{.note = level(0, 0),
                                 .attention = level(1, 0),
                                 .side = Side::above,
                                 .unit = Unit::pct};
  static constexpr Limits limits(const Profile& profile) {
    return with_overrides(kUsual, profile, info.id);
  }

  bool step(const Moment<R>& m, Ledger<R>& ledger) {
    ++scans_;
    for_each_bit(m.frame->with(Quality::spike), [&](std::size_t i) {
      Tally* const slot = tallies_.get(i);
      if (slot == nullptr) return;
      Tally& tally = *slot;
      tally.last = Stamp(m.at);
      tally.value = m.frame->values[i];
      if (tally.n == 0) tally.first = Stamp(m.at);
      if (tally.n < 0xFFFF) ++tally.n;
      if (tally.n == 1)
        tell(m, i, tally, Severity::note, FindingEvent::opened, ledger);
    });
    return true;
  }
  [[gnu::cold]] void end_run(const Moment<R>& m, Ledger<R>& ledger) {
    const Limits bounds = limits(*m.profile);
    for (const auto& [tally, i] : tallies_) {
      Severity severity = bounds.severity_of(static_cast<float>(share(tally)));
      // A single bad sample never makes more than a note.
      if (severity > Severity::note && tally.n < 3) {
        severity = Severity::note;
      }
      if (severity > Severity::note) {
        tell(m, i, tally, severity, FindingEvent::worsened, ledger);
      }
      tell(m, i, tally, severity, FindingEvent::closed, ledger);
    }
  }
  void reset() {
    tallies_.clear();
    scans_ = 0;
  }

 private:
  struct Tally {
    Stamp first;
    Stamp last;
    R value = R(0);
    std::uint16_t n = 0;
  };

  [[nodiscard]] R share(const Tally& tally) const {
    return R(100) * static_cast<R>(tally.n) / static_cast<R>(scans_);
  }
  [[gnu::cold]] void tell(const Moment<R>& m, std::size_t i, const Tally& tally,
                          Severity severity, FindingEvent event,
                          Ledger<R>& ledger) {
    const Severity known = is_finding(severity) ? severity : Severity::note;
    ledger.tell({info.id, static_cast<Channel>(i), Unit::pct, known},
                {tally.first.full(m.at), tally.last.full(m.at)}, share(tally),
                static_cast<R>(limits(*m.profile)[known].limit),
                {{static_cast<R>(tally.n), share(tally), tally.value}}, event);
  }

  /// On the box more channels than these go unmarked in one run.
  Slots<Tally, room<R>(kChannelCount, 6)> tallies_;
  std::uint32_t scans_ = 0;
};

}  // namespace telltale
