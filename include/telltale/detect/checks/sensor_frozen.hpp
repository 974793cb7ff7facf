// sensor-frozen: readings that stand still while what they must follow moves.
#pragma once

#include <array>

#include "telltale/condition/frozen.hpp"
#include "telltale/detect/check.hpp"

namespace telltale {

template <std::floating_point R>
class SensorFrozen {
 public:
  static constexpr CheckInfo info{
      .id = 42,
      .slug = "sensor-frozen",
      .title = "Reading frozen",
      .source =
          "NAMUR NE 107: a failed device status, kept apart from the "
          "machine; 10 min: common practice",
      .details = {{{"stuck at", Unit::one}}}};
  static constexpr When when{
      .phases = kAnyPhase & static_cast<PhaseMask>(~bit(Phase::stopped))};
  static constexpr Advice advice{
      .summary =
          "{channel} has not moved by a digit for {value} of running "
          "while what it must follow did",
      .causes = {"sensor or its converter hung",
                 "controller showing the last good value of a lost sensor",
                 "bus node off line"},
      .next = {"compare with a hand instrument",
               "check plug and cable, restart the converter",
               "trust no verdict on this channel until it moves again"},
      .cautions = 0};
  static constexpr Explanation explanation{
      .sees = "Fifteen channels that cannot truly stand still for long.",
      .decides =
          "Bit-identical for over 10 min of running, where before it "
          "jumped by two steps of its resolution so often that "
          "chance cannot have ended it, or where what it must follow "
          "has been elsewhere for 5 min (speed and frequency follow "
          "each other, oil pressure the temperature, temperatures "
          "each other and the load), or where it reads the same at "
          "rest and running. From then on its readings are "
          "condemned: no other check judges them.",
      .blind = "Before 10 min of running.",
      .fooled =
          "A very coarse column that happens to sit between two steps: "
          "that is why liveliness must have been seen before."};

  /// In minutes of standing still.
  static constexpr Limits kUsual{.attention = level(10, 600),
                                 .unit = Unit::one};
  static constexpr Limits limits(const Profile& profile) {
    return with_overrides(kUsual, profile, info.id);
  }

  bool step(const Moment<R>& m, Ledger<R>& ledger) {
    tell(m, ledger);
    return true;
  }
  /// What was seen when the set had come to rest.
  void end_run(const Moment<R>& m, Ledger<R>& ledger) { tell(m, ledger); }
  void reset() { told_ = 0; }

 private:
  void tell(const Moment<R>& m, Ledger<R>& ledger) {
    const ChannelMask frozen = m.frame->with(Quality::frozen);
    for_each_bit(frozen & ~told_, [&](std::size_t i) {
      const auto channel = static_cast<Channel>(i);
      const SpanOf<R> still = m.frozen->still(channel);
      ledger.tell({info.id, channel, Unit::s, Severity::attention},
                  {m.at - still, m.at}, in_ms<R>(still) * R(0.001),
                  in_ms<R>(FrozenDetector<R>::kLeast) * R(0.001),
                  {{m.frame->values[i]}});
    });
    told_ = (told_ | frozen) & ~m.frame->with(Quality::good);
  }

  ChannelMask told_ = 0;
};

}  // namespace telltale
