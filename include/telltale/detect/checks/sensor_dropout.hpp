// sensor-dropout: missing or sentinel readings while running.
#pragma once

#include <cstdint>

#include "telltale/base/box.hpp"
#include "telltale/base/slots.hpp"
#include "telltale/base/stamp.hpp"
#include "telltale/detect/check.hpp"

namespace telltale {

template <std::floating_point R>
class SensorDropout {
 public:
  static constexpr CheckInfo info{
      .id = 45,
      .slug = "sensor-dropout",
      .title = "Readings missing",
      .source =
          "NAMUR NE 107: a device status, kept apart from the machine; "
          "common practice",
      .details = {
          {{"readings missing", Unit::one}, {"longest stretch", Unit::s}}}};
  static constexpr When when{.phases = kSelfRunning};
  static constexpr Advice advice{
      .summary =
          "{channel} had no usable reading in {value} of the rows "
          "while running (longest stretch {d1})",
      .causes = {"loose plug or chafed cable",
                 "bus node restarting, or overloaded bus",
                 "controller writing a code for 'not available'"},
      .next = {"move plug and cable while watching the reading",
               "check bus termination and supply of the node"},
      .cautions = 0};
  static constexpr Explanation explanation{
      .sees =
          "For every channel that has a column and has ever read "
          "anything: rows while running without a usable reading (blank, "
          "a missing-value spelling, a bus code).",
      .decides =
          "A note above 1 % of the rows or 10 s in a row, attention "
          "above 10 %; three readings at least.",
      .blind = "For a column that never held a reading.",
      .fooled =
          "A channel logged at a slower pace than the rows, where the "
          "pace is irregular."};

  /// In percent of the rows while running; 10 s in a row is fixed beside it.
  static constexpr Limits kUsual{.note = level(1, 0),
                                 .attention = level(10, 0),
                                 .side = Side::above,
                                 .unit = Unit::pct};
  static constexpr Limits limits(const Profile& profile) {
    return with_overrides(kUsual, profile, info.id);
  }

  bool step(const Moment<R>& m, Ledger<R>& ledger) {
    ++scans_;
    const ChannelMask missing = m.frame->with(Quality::missing);
    for (auto& [tally, channel] : tallies_) {
      if ((missing >> channel & 1U) != 0) continue;
      tally.streak_ms = 0;
      tally.streak = 0;
    }
    alive_ |= m.frame->with(Quality::good);
    for_each_bit(missing & alive_, [&](std::size_t i) {
      if (Tally* const tally = tallies_.get(i)) miss(m, i, *tally, ledger);
    });
    return true;
  }
  [[gnu::cold]] void end_run(const Moment<R>& m, Ledger<R>& ledger) {
    const Limits bounds = limits(*m.profile);
    for (const auto& [tally, i] : tallies_) {
      if (tally.n < kLeast) continue;
      Severity severity = bounds.severity_of(static_cast<float>(share(tally)));
      if (!is_finding(severity) && tally.told) severity = Severity::note;
      if (!is_finding(severity)) continue;
      if (!tally.told || severity > Severity::note) {
        tell(m, i, tally, severity,
             tally.told ? FindingEvent::worsened : FindingEvent::opened,
             ledger);
      }
      tell(m, i, tally, severity, FindingEvent::closed, ledger);
    }
  }
  /// What a channel once read stays known between runs.
  void reset() {
    tallies_.clear();
    scans_ = 0;
  }

 private:
  static constexpr std::uint32_t kLeast = 3;
  static constexpr std::int64_t kInARow = 10'000;

  struct Tally {
    Stamp first;
    Stamp last;
    std::uint32_t n = 0;
    std::uint32_t streak_ms = 0;
    std::uint32_t longest_ms = 0;
    std::uint16_t streak = 0;
    bool told = false;
  };

  [[gnu::noinline]] void miss(const Moment<R>& m, std::size_t i, Tally& tally,
                              Ledger<R>& ledger) {
    if (tally.n == 0) tally.first = Stamp(m.at);
    ++tally.n;
    tally.last = Stamp(m.at);
    if (tally.streak < 0xFFFF) ++tally.streak;
    tally.streak_ms += static_cast<std::uint32_t>(m.dt.ms);
    if (tally.streak_ms > tally.longest_ms) tally.longest_ms = tally.streak_ms;
    if (!tally.told && tally.streak >= kLeast && tally.streak_ms >= kInARow) {
      tally.told = true;
      tell(m, i, tally, Severity::note, FindingEvent::opened, ledger);
    }
  }
  [[nodiscard]] R share(const Tally& tally) const {
    return R(100) * static_cast<R>(tally.n) / static_cast<R>(scans_);
  }
  [[gnu::cold]] void tell(const Moment<R>& m, std::size_t i, const Tally& tally,
                          Severity severity, FindingEvent event,
                          Ledger<R>& ledger) {
    ledger.tell({info.id, static_cast<Channel>(i), Unit::pct, severity},
                {tally.first.full(m.at), tally.last.full(m.at)}, share(tally),
                static_cast<R>(limits(*m.profile)[severity].limit),
                {{static_cast<R>(tally.n),
                  static_cast<R>(tally.longest_ms) * R(0.001)}},
                event);
  }

  /// On the box more channels than these go unmarked in one run.
  Slots<Tally, room<R>(kChannelCount, 6)> tallies_;
  std::uint32_t scans_ = 0;
  ChannelMask alive_ = 0;
};

}  // namespace telltale
