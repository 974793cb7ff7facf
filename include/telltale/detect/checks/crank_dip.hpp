// crank-dip: lowest battery volts while cranking.
#pragma once

#include <algorithm>
#include <cmath>

#include "telltale/detect/check.hpp"

namespace telltale {

template <std::floating_point R>
class CrankDip {
 public:
  static constexpr CheckInfo info{
      .id = 34,
      .slug = "crank-dip",
      .title = "Battery dips deep when cranking",
      .needs = bit(Channel::battery_voltage),
      .source =
          "common practice after the load test: 9.6 V or more at half "
          "the cold-cranking current, battery above 20 degC",
      .details = {{{"before the crank", Unit::V}, {"crank", Unit::s}}}};
  static constexpr When when{.phases = kAnyPhase};
  static constexpr Advice advice{
      .summary = "Battery fell to {value} while cranking (limit {limit})",
      .causes = {"battery worn out or discharged",
                 "corroded or loose battery or starter connection",
                 "starter drawing too much", "thick oil in the cold"},
      .next = {"charge the battery fully, rest it, then load-test it",
               "measure the drop over each cable while cranking: 0.5 V in all",
               "clean posts and earth strap", "check the starter's current"},
      .cautions = caution::kBattery | caution::kWater};
  static constexpr Explanation explanation{
      .sees =
          "Battery volts while the engine turns below 40 % of nominal "
          "speed on the way up.",
      .decides =
          "The lowest reading that a neighbouring one or a second "
          "crank agrees with to within 0.5 V. Doubled for 24 V. The inrush "
          "of the first 0.4 s is passed over where several readings fall "
          "into it: it is deep with every battery.",
      .blind = "At intervals over 1 s.",
      .fooled = "Volts measured at the controller, behind thin wires."};

  /// In volts, of a 12 V battery.
  static constexpr Limits kUsual{.attention = level(9.6F, 0),
                                 .urgent = level(8.5F, 0),
                                 .side = Side::below,
                                 .unit = Unit::V};
  static constexpr Limits limits(const Profile& profile) {
    return with_overrides(at_battery(kUsual, profile.rating.battery_v), profile,
                          info.id);
  }
  void configure(const Profile& profile) {
    agree_ = profile.rating.battery_v > 18.0F ? R(1) : R(0.5);
  }

  bool step(const Moment<R>& m, Ledger<R>& ledger) {
    const auto& volts = m[Channel::battery_voltage];
    bool judged = false;
    if (m.phase == Phase::cranking) {
      if (!cranking_) begin(m);
      if (volts.good() && !in_rush(m)) follow(m.at, volts.value);
    } else if (cranking_) {
      // The reading after the crank may still be a neighbour.
      if (volts.good()) follow(m.at, volts.value);
      cranking_ = false;
      judged = judge(m, ledger);
    }
    if (volts.good() && m.phase == Phase::stopped) before_ = volts.value;
    return judged;
  }
  /// `before_` stays: the rest before a run is not part of it.
  void reset() {
    single_ = Finding<R>::kNone;
    cranking_ = false;
    blind_ = Blind::start_not_seen;
  }
  [[nodiscard]] Blind blind() const { return blind_; }

 private:
  static constexpr SpanOf<R> kLongest{1100};
  static constexpr SpanOf<R> kInrush{400};

  void begin(const Moment<R>& m) {
    cranking_ = true;
    began_ = m.at;
    last_ = lowest_ = agreed_ = Finding<R>::kNone;
  }
  /// The starter takes several times its current until it turns.
  [[nodiscard]] bool in_rush(const Moment<R>& m) const {
    return m.interval < kInrush && m.at - began_ < kInrush;
  }
  // A logger may be slow at rest and quick from the first crank on: what counts
  // is how far the readings are apart.
  void follow(TimeOf<R> at, R volts) {
    if (last_ == last_ && at - last_at_ <= kLongest) {
      // Two neighbours: what both reached, or the lower if they agree.
      const R pair = std::abs(volts - last_) <= agree_ ? std::min(volts, last_)
                                                       : std::max(volts, last_);
      if (!(agreed_ <= pair)) agreed_ = pair;
    }
    if (!(lowest_ <= volts)) lowest_ = volts;
    last_ = volts;
    last_at_ = at;
  }
  [[gnu::noinline]] bool judge(const Moment<R>& m, Ledger<R>& ledger) {
    if (!(lowest_ == lowest_)) return false;
    if (m.interval > kLongest && !(agreed_ == agreed_)) {
      blind_ = Blind::interval_too_long;
      return false;
    }
    R dip = agreed_;
    // A second crank agreeing will do as well.
    if (std::abs(single_ - lowest_) <= agree_) {
      const R both = std::max(single_, lowest_);
      if (!(dip <= both)) dip = both;
    }
    if (!(single_ <= lowest_)) single_ = lowest_;
    const Limits bounds = limits(*m.profile);
    const Severity severity = bounds.severity_of(static_cast<float>(dip));
    if (is_finding(severity)) {
      ledger.hold({info.id, Channel::battery_voltage, Unit::V, severity},
                  {began_, m.at}, dip, static_cast<R>(bounds[severity].limit),
                  {{before_, in_ms<R>(m.at - began_) * R(0.001)}},
                  Worse::lower);
    }
    return dip == dip;
  }

  TimeOf<R> began_ = kNoTime;
  TimeOf<R> last_at_ = kNoTime;
  R agree_{};
  R before_ = Finding<R>::kNone;
  R last_{};  // of this crank, as the next two
  R lowest_{};
  R agreed_{};
  R single_ = Finding<R>::kNone;  // lowest of the cranks before
  Blind blind_ = Blind::start_not_seen;
  bool cranking_ = false;
};

}  // namespace telltale
