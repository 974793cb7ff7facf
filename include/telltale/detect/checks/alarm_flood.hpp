// alarm-flood: more of the controller's own alarms than anyone can follow.
#pragma once

#include <bit>

#include "telltale/base/stamp.hpp"
#include "telltale/detect/check.hpp"

namespace telltale {

template <std::floating_point R>
class AlarmFlood {
 public:
  static constexpr CheckInfo info{
      .id = 47,
      .slug = "alarm-flood",
      .title = "Alarm flood",
      .source =
          "ISA-18.2 / EEMUA 191: over 10 alarms in 10 min, until under 5 "
          "in 10 min",
      .details = {{{"raises in the flood", Unit::one}}}};
  static constexpr When when{.phases = kAnyPhase};
  static constexpr Advice advice{
      .summary =
          "{value} alarms were raised within 10 min (flood above "
          "{limit})",
      .causes = {"one cause with many consequences: look at the first alarm",
                 "a chattering alarm",
                 "supply of controller or sensors failing"},
      .next = {"find what came first: see telltale alarms",
               "cure chattering alarms with delay and deadband"},
      .cautions = 0};
  static constexpr Explanation explanation{
      .sees = "Raises of all alarms together, over the last 10 min.",
      .decides = "A flood begins above 10 raises in 10 min and ends below 5.",
      .blind = "Without an alarm column.",
      .fooled = "Test of the alarm panel."};

  /// Raises within 10 min.
  static constexpr Limits kUsual{
      .attention = level(10, 600), .side = Side::above, .unit = Unit::one};
  static constexpr Limits limits(const Profile& profile) {
    return with_overrides(kUsual, profile, info.id);
  }

  bool step(const Moment<R>& m, Ledger<R>& ledger) {
    const AlarmRaises& raises = *m.alarms;
    if (raises.size() == 0) return true;
    const Level limit = limits(*m.profile).attention;
    const int raised = std::popcount(raises.raised());
    std::size_t recent = 0;
    while (recent < raises.size() &&
           raises.at(recent).age(m.at) <= limit.delay()) {
      ++recent;
    }
    if (ledger.holds(info.id)) in_flood_ += static_cast<std::uint32_t>(raised);
    const R count = static_cast<R>(recent);
    if (count > static_cast<R>(limit.limit)) {
      if (!ledger.holds(info.id)) {
        in_flood_ = static_cast<std::uint32_t>(recent);
      }
      ledger.hold({info.id, Channel::none, Unit::one, Severity::attention},
                  {raises.at(recent - 1).full(m.at), m.at}, count,
                  static_cast<R>(limit.limit), {{static_cast<R>(in_flood_)}});
    } else if (count < kOver && ledger.holds(info.id)) {
      ledger.close(info.id, m.at);
    }
    return true;
  }

 private:
  static constexpr R kOver = R(5);

  std::uint32_t in_flood_ = 0;
};

}  // namespace telltale
