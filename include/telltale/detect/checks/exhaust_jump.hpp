// exhaust-jump: a fast rise that start and load do not explain.
#pragma once

#include <algorithm>
#include <type_traits>

#include "telltale/base/compact.hpp"
#include "telltale/base/ring.hpp"
#include "telltale/base/stamp.hpp"
#include "telltale/detect/check.hpp"

namespace telltale {

template <std::floating_point R>
class ExhaustJump {
 public:
  static constexpr CheckInfo info{
      .id = 28,
      .slug = "exhaust-jump",
      .title = "Exhaust heats up fast: raw water lost?",
      .needs = bit(Channel::exhaust_temperature),
      .source =
          "common practice: without raw water the exhaust heats within "
          "seconds, the coolant only minutes later",
      .details = {
          {{"from", Unit::degC}, {"to", Unit::degC}, {"coolant", Unit::degC}}}};
  static constexpr When when{};
  static constexpr Advice advice{
      .summary =
          "Wet exhaust rose by {value} within a minute, from {d0} to "
          "{d1} (limit {limit})",
      .causes = {"sea cock shut or hull intake blocked by weed or plastic",
                 "strainer full or its lid drawing air", "impeller failed",
                 "raw-water hose off, kinked or collapsed",
                 "siphon break or injection elbow blocked"},
      .next = {"stop the set at once; hose and muffler can burn and let gas "
               "into the boat",
               "check sea cock, strainer and strainer lid",
               "check the impeller and find any vanes that broke off",
               "after the repair check for water at the outlet within 30 s"},
      .cautions = caution::kExhaust | caution::kWater};
  static constexpr Explanation explanation{
      .sees =
          "Exhaust temperature after the raw-water injection, as 5 s "
          "means over the last minute.",
      .decides =
          "The newest mean above the lowest of the minute by more than "
          "the limit, twice running. Within 5 min of a start or of a "
          "change of load by over 10 % of rating, or where nothing "
          "tells the load, only more than 25 degC counts.",
      .blind = "With a dry exhaust sensor.",
      .fooled = "A sensor that is splashed only now and then."};

  /// In kelvin within 60 s.
  static constexpr Limits kUsual{
      .urgent = level(10, 60), .side = Side::above, .unit = Unit::K};
  static constexpr Limits limits(const Profile& profile) {
    return with_overrides(kUsual, profile, info.id);
  }
  void configure(const Profile& profile) {
    limit_ = static_cast<R>(limits(profile).urgent.limit);
    wet_ = profile.rating.exhaust != Exhaust::dry;
  }

  bool step(const Moment<R>& m, Ledger<R>& ledger) {
    const auto& exhaust = m[Channel::exhaust_temperature];
    if (!wet_ || !exhaust.good()) return false;
    if (n_ > 0 && open_at_.age(m.at) >= kCell) close_cell(m, ledger);
    if (n_ == 0) {
      open_at_ = Stamp(m.at);
      sum_ = R(0);
    }
    sum_ += exhaust.value;
    ++n_;
    return true;
  }
  void reset() {
    cells_.clear();
    n_ = confirmed_ = 0;
  }
  [[nodiscard]] Blind blind() const {
    return wet_ ? Blind::never_steady : Blind::not_this_kind;
  }

 private:
  static constexpr SpanOf<R> kCell = seconds(5);
  static constexpr SpanOf<R> kWindow = seconds(60);
  static constexpr SpanOf<R> kExplained = minutes(5);
  static constexpr R kBeyondExplaining = R(25);
  /// What the time of a cell may be off.
  static constexpr SpanOf<R> kCoarse{kOnBox<R> ? 200 : 0};
  using At = std::conditional_t<kOnBox<R>, EighthStamp, Stamp>;
  struct Cell {
    At at;
    Compact<R, CelsiusRange> mean;
  };

  [[gnu::noinline]] void close_cell(const Moment<R>& m, Ledger<R>& ledger) {
    const R mean = sum_ / static_cast<R>(n_);
    n_ = 0;
    const SpanOf<R> reach =
        std::max(kWindow, SpanOf<R>{std::int64_t{m.interval.ms} * 2});
    while (!cells_.empty() &&
           cells_.front().at.age(m.at) > reach + kCell + kCoarse) {
      cells_.pop();
    }
    R low = mean;
    TimeOf<R> low_at = open_at_.full(m.at);
    const Cell closed{At(low_at), mean};
    for (std::size_t i = 0; i < cells_.size(); ++i) {
      if (cells_[i].mean <= low) {
        low = cells_[i].mean;
        low_at = cells_[i].at.full(m.at);
      }
    }
    cells_.push(closed);
    judge(m, low, low_at, mean, ledger);
  }
  [[nodiscard]] bool explained(const Moment<R>& m) const {
    const bool started =
        !m.run->begins_in_log && m.since_running() < kExplained;
    return started || m.since_load_move() < kExplained ||
           m.load_source == LoadSource::none;
  }
  [[gnu::noinline]] void judge(const Moment<R>& m, R low, TimeOf<R> low_at,
                               R now, Ledger<R>& ledger) {
    const R rise = now - low;
    const R limit = explained(m) ? std::max(limit_, kBeyondExplaining) : limit_;
    if (!(rise > limit)) {
      confirmed_ = 0;
      ledger.close_after(info.id, m.at, kWindow);
      return;
    }
    if (++confirmed_ < 2) return;
    ledger.hold(
        {info.id, Channel::exhaust_temperature, Unit::K, Severity::urgent},
        {low_at, m.at}, rise, limit,
        {{low, now, m[Channel::coolant_temperature].value}});
  }

  Ring<Cell, 13> cells_;
  Stamp open_at_;
  R sum_ = R(0);
  R limit_{};
  std::uint16_t n_ = 0;
  std::uint8_t confirmed_ = 0;
  bool wet_{};
};

}  // namespace telltale
