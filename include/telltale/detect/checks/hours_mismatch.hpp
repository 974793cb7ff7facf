// hours-mismatch: the hour meter against the running time.
#pragma once

#include <algorithm>
#include <cmath>

#include "telltale/base/out_of_line.hpp"
#include "telltale/detect/check.hpp"

namespace telltale {

template <std::floating_point R>
class HoursMismatch {
 public:
  static constexpr CheckInfo info{
      .id = 39,
      .slug = "hours-mismatch",
      .title = "Hour meter and running time differ",
      .needs = bit(Channel::engine_hours),
      .source = "common practice",
      .details = {{{"on the meter", Unit::h}, {"running", Unit::h}}}};
  static constexpr When when{.phases = kSelfRunning};
  static constexpr Advice advice{
      .summary =
          "The hour meter moved {d0} while the set ran {d1}: {value} "
          "apart (limit {limit})",
      .causes = {"meter counts only above some speed, or with the key on",
                 "meter or controller lost power",
                 "log's clock wrong or readings missing"},
      .next = {"compare meter and watch over an hour",
               "plan service by whichever is right"},
      .cautions = 0};
  static constexpr Explanation explanation{
      .sees =
          "First and last reading of the hour meter while running, and "
          "the time between them.",
      .decides =
          "A difference of more than 5 %, more than 0.2 h and more "
          "than the meter's own step is a note at the end of the run. "
          "Needs the whole run.",
      .blind = "In runs shorter than 0.2 h; without an hour meter.",
      .fooled = "Clock jumps the log does not show."};

  /// In percent of the running time.
  static constexpr Limits kUsual{
      .note = level(5, 0), .side = Side::above, .unit = Unit::pct};
  static constexpr Limits limits(const Profile& profile) {
    return with_overrides(kUsual, profile, info.id);
  }
  void configure(const Profile& profile) {
    limit_ = static_cast<R>(limits(profile).note.limit);
  }

  TELLTALE_OUT_OF_LINE bool step(const Moment<R>& m, Ledger<R>&) {
    const auto& hours = m[Channel::engine_hours];
    if (!hours.good()) return false;
    if (!is_set(first_at_)) {
      first_at_ = m.at;
      first_ = hours.value;
    }
    last_at_ = m.at;
    last_ = hours.value;
    return (last_at_ - first_at_).ms > kLeastMs;
  }
  [[gnu::cold]] bool end_run(const Moment<R>& m, Ledger<R>& ledger) {
    if (!is_set(first_at_) || (last_at_ - first_at_).ms <= kLeastMs) {
      return false;
    }
    const R ran = in_ms<R>(last_at_ - first_at_) / R(3600000);
    const R counted = last_ - first_;
    const R apart = std::abs(counted - ran);
    // The meter may show up to one step too little or too much.
    const R coarse = meter_step(m.resolution_of(Channel::engine_hours));
    const R percent = R(100) * apart / ran;
    if (apart - coarse > kLeastHours && percent > limit_) {
      ledger.tell({info.id, Channel::engine_hours, Unit::pct, Severity::note},
                  {first_at_, last_at_}, percent, limit_, {{counted, ran}});
    }
    return true;
  }
  void reset() { first_at_ = last_at_ = kNoTime; }
  [[nodiscard]] static constexpr Blind blind() { return Blind::too_short; }

 private:
  /// The meter's step; one that never moved is judged by its digits.
  [[nodiscard]] R meter_step(R seen) const {
    if (seen > R(0)) return std::max(seen, kLeastStep);
    const auto whole = [](R x) {
      return static_cast<R>(static_cast<std::int32_t>(x));
    };
    if (last_ == whole(last_)) return R(1);
    const R tenths = last_ * R(10);
    return std::abs(tenths - whole(tenths + R(0.5))) < R(0.02) ? R(0.1)
                                                               : kLeastStep;
  }

  static constexpr R kLeastHours = R(0.2);
  static constexpr R kLeastStep = R(0.05);
  static constexpr std::int64_t kLeastMs = 12 * 60 * 1000;

  TimeOf<R> first_at_ = kNoTime;
  TimeOf<R> last_at_ = kNoTime;
  R first_ = R(0);
  R last_ = R(0);
  R limit_{};
};

}  // namespace telltale
