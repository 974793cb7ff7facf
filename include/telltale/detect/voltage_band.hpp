// VoltageBand<R>: the working half of the checks that hold volts against one
// side of a band.
#pragma once

#include <concepts>
#include <cstdint>

#include "telltale/base/out_of_line.hpp"
#include "telltale/detect/check.hpp"
#include "telltale/detect/legs.hpp"
#include "telltale/detect/relative.hpp"

namespace telltale {

/// Every voltage of the set by itself, against limits in percent off nominal.
template <std::floating_point R>
class VoltageBand {
 public:
  using LimitsOf = Limits (*)(const Profile&);

  void configure(const Profile& profile, LimitsOf limits) {
    leg_edge_ = rule(profile, limits, Channel::voltage_l1).edge();
    line_edge_ = rule(profile, limits, Channel::voltage_line).edge();
  }
  /// Nominal volts are known.
  [[nodiscard]] bool known() const { return line_edge_ == line_edge_; }
  /// Whether there was anything to judge. `side`: that of the limits.
  TELLTALE_OUT_OF_LINE bool judge(const Moment<R>& m, std::uint8_t check,
                                  LimitsOf limits, Side side,
                                  Ledger<R>& ledger) const {
    bool judged = false;
    constexpr std::uint8_t kCount{kAllVolts.size()};
    for (std::uint8_t i = 0; i < kCount; ++i) {
      const Channel channel = kAllVolts[i];
      const auto& volts = m[channel];
      if (!volts.good()) continue;
      const R edge = channel == Channel::voltage_line ? line_edge_ : leg_edge_;
      if (ledger.minds(check, volts.value, edge, side)) {
        const float nominal = nominal_volts(channel, m.profile->rating);
        ledger.watch(m, {check, channel, Unit::V}, volts.value,
                     rule(*m.profile, limits, channel),
                     {{static_cast<R>(nominal), m.load_pct}}, i);
      }
      judged = true;
    }
    return judged;
  }

 private:
  static LatchRule<R> rule(const Profile& profile, LimitsOf limits,
                           Channel channel) {
    const float volts = nominal_volts(channel, profile.rating);
    return relative_rule<R>(limits(profile), volts,
                            static_cast<R>(volts) * R(0.002));
  }

  R leg_edge_{};
  R line_edge_{};  // NaN: no nominal
};

}  // namespace telltale
