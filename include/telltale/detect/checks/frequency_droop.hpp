// frequency-droop: how far frequency falls from no load to full load.
#pragma once

#include <algorithm>
#include <cmath>
#include <limits>

#include "telltale/base/compact.hpp"
#include "telltale/base/ring.hpp"
#include "telltale/condition/performance_class.hpp"
#include "telltale/detect/check.hpp"

namespace telltale {

template <std::floating_point R>
class FrequencyDroop {
 public:
  static constexpr CheckInfo info{
      .id = 5,
      .slug = "frequency-droop",
      .title = "Too much droop",
      .needs = bit(Channel::frequency),
      .source = "ISO 8528-5 frequency droop: G1 8, G2 5, G3 3 % of rated",
      .details = {{{"at no load", Unit::Hz},
                   {"at full load", Unit::Hz},
                   {"lightest load seen", Unit::pct},
                   {"heaviest load seen", Unit::pct}}}};
  static constexpr When when{.block = true};
  static constexpr Advice advice{
      .summary =
          "Frequency droops by {value} from no load to full load "
          "(limit {limit})",
      .causes = {"governor droop set too wide",
                 "worn governor spring or linkage with play",
                 "engine short of power at higher load: fuel, air or "
                 "compression",
                 "asynchronous generator: slip adds to the governor's droop"},
      .next = {"note frequency at no load, half and full load with a meter",
               "check fuel filter and air intake before touching the governor",
               "check linkage for play, then adjust droop by the handbook"},
      .cautions = caution::kShock | caution::kRotating};
  static constexpr Explanation explanation{
      .sees = "10 s means of frequency and load in settled running.",
      .decides =
          "Every change of load by 10 % of rating or more within 3 min "
          "gives a slope, frequency over load; their weighted median, "
          "taken over the whole load range, is the droop. A governor "
          "that is moved at constant load does not look like droop so.",
      .blind =
          "Until the run has covered 40 % of the rating, and where the "
          "rating is not known.",
      .fooled = "A governor adjusted together with every change of load."};

  /// In percent of rated frequency.
  static constexpr Limits limits(const Profile& profile) {
    return with_overrides(
        {.attention = level(limits_of(profile.rating.performance).droop, 0),
         .side = Side::above,
         .unit = Unit::pct},
        profile, info.id);
  }
  void configure(const Profile& profile) {
    hz_ = static_cast<R>(profile.rating.frequency_hz);
  }

  bool step(const Moment<R>& m, Ledger<R>& ledger) {
    const R hz = (*m.block)[Channel::frequency];
    const R load = m.block->load_pct;
    if (!(hz_ == hz_)) return blinded(Blind::no_nominal);
    if (!m.load_rated) return blinded(Blind::no_rating);
    if (!(load == load)) return blinded(Blind::no_load_reading);
    if (!m.block->steady || !(hz == hz)) return blinded(Blind::never_steady);
    while (grid_ > kFinestGrid && !on_grid(hz)) grid_ *= R(0.1);
    low_ = std::min(low_, load);
    high_ = std::max(high_, load);
    pair_up(m, load, hz);
    return judge(m, load, hz, ledger);
  }
  void reset() {
    pairs_.clear();
    blind_ = Blind::never_steady;
    grid_ = R(1);
    low_ = R(1000);
    high_ = R(-1000);
    here_at_ = kNoTime;
    paired_ = false;
    last_load_ = Finding<R>::kNone;
  }
  /// A run that was judged but for its load range says that, whatever its last
  /// block lacked.
  [[nodiscard]] Blind blind() const {
    return low_ <= high_ ? Blind::load_too_uniform : blind_;
  }
  /// The droop found so far, Hz per percent of load; NaN while there are too
  /// few changes of load to tell.
  [[nodiscard]] R hz_per_percent() const {
    return pairs_.size() < kLeastPairs ? Finding<R>::kNone : slope_;
  }

 private:
  static constexpr R kLeastSpan = R(40);    // % of rating, the run covers
  static constexpr R kLeastChange = R(10);  // % of rating, of a pair
  static constexpr R kSame = R(3);
  static constexpr SpanOf<R> kTogether = minutes(3);

  struct SlopeRange {
    static constexpr Fixed16::Scale kScale{-1.0F, 0.00004F};
  };
  struct WeightRange {
    static constexpr Fixed16::Scale kScale{0.0F, 0.5F};
  };
  struct Pair {
    Compact<R, SlopeRange> slope;  // Hz per percent of load
    Compact<R, WeightRange> weight;
  };

  /// A settled load and its frequency, in the mean of the last minute or so: a
  /// single block of a log that is sampled slowly is a single reading.
  struct Dwell {
    R load = Finding<R>::kNone;
    R hz = Finding<R>::kNone;

    void add(R next_load, R next_hz, R blocks) {
      load += (next_load - load) / blocks;
      hz += (next_hz - hz) / blocks;
    }
  };
  /// The one before, as a box keeps it.
  struct LastDwell {
    Compact<R, PercentRange> load;
    Compact<R, HertzRange> hz;
  };
  static constexpr std::uint8_t kMinute = 6;  // blocks

  [[nodiscard]] bool on_grid(R hz) const {
    const R steps = hz / grid_;
    const R whole = static_cast<R>(static_cast<std::int32_t>(steps + R(0.5)));
    return std::abs(steps - whole) < R(0.01);
  }
  bool blinded(Blind why) {
    blind_ = why;
    return false;
  }
  /// A change from one settled load to another; a load is settled when two
  /// blocks in a row agree on it.
  [[gnu::noinline]] void pair_up(const Moment<R>& m, R load, R hz) {
    const bool settled = std::abs(load - last_load_) < kSame;
    last_load_ = load;
    if (!settled) return;
    const R change = std::abs(load - here_.load);
    const bool recent = is_set(here_at_) && m.at - here_at_ <= kTogether;
    if (recent && change > kSame && change < kLeastChange) {
      return;  // on its way to a change that counts
    }
    here_at_ = m.at;
    if (recent && change <= kSame) {
      const bool settling = blocks_ < kMinute;
      if (settling) ++blocks_;
      here_.add(load, hz, static_cast<R>(blocks_));
      // After a minute the pair is as good as it gets.
      if (!paired_ || !settling) return;
      pairs_.back() = pair();
    } else {
      before_ = {here_.load, here_.hz};
      here_ = {load, hz};
      blocks_ = 1;
      paired_ = recent;
      if (!recent) return;
      pairs_.push(pair());
    }
    slope_ = weighted_median();
  }
  /// The load before and the load now.
  [[nodiscard]] Pair pair() const {
    const R change = here_.load - R(before_.load);
    return {(here_.hz - R(before_.hz)) / change, change * change};
  }
  /// Of the slopes.
  [[nodiscard]] R weighted_median() const {
    R best = R(0);
    R least = std::numeric_limits<R>::infinity();
    for (std::size_t i = 0; i < pairs_.size(); ++i) {
      const R slope = pairs_[i].slope;
      R off = R(0);
      for (std::size_t k = 0; k < pairs_.size(); ++k) {
        const R apart = pairs_[k].slope - slope;
        off += pairs_[k].weight * std::abs(apart);
      }
      if (off < least) {
        least = off;
        best = slope;
      }
    }
    return best;
  }
  /// The standard error of the median slope, from the pairs' mean deviation
  /// about it, times what leaves little on either side: near Student's t, and
  /// wider, as it is asked anew with every pair.
  [[nodiscard]] R uncertainty(R median, R resolution) const {
    R off = R(0);
    const R n = static_cast<R>(pairs_.size());
    for (std::size_t i = 0; i < pairs_.size(); ++i) {
      off += std::abs(pairs_[i].slope - median) / n;
    }
    // Two readings of a coarse column may be half a step off each.
    const R coarse = resolution / kLeastChange / R(2);
    const R t = R(2.5) + R(20) / (n * n);
    return t * std::max(R(1.57) * off, coarse) / std::sqrt(n);
  }
  [[gnu::noinline]] bool judge(const Moment<R>& m, R load, R hz,
                               Ledger<R>& ledger) {
    if (pairs_.empty() || high_ - low_ < kLeastSpan) {
      return blinded(Blind::load_too_uniform);
    }
    const R per_percent = slope_;
    const R droop = -per_percent * R(10000) / hz_;
    const R sure =
        droop - uncertainty(per_percent, resolution(m)) * R(10000) / hz_;
    const auto limit = static_cast<R>(limits(*m.profile).attention.limit);
    if (sure > limit && pairs_.size() >= kLeastPairs) {
      const R at_none = hz - per_percent * load;
      ledger.hold({info.id, Channel::frequency, Unit::pct, Severity::attention},
                  {m.run->at_speed_since, m.block->to}, droop, limit,
                  {{at_none, at_none + per_percent * R(100), low_, high_}});
    }
    return true;
  }

  /// A quiet column steps by no less than its load steps make of it: the grid
  /// its means lie on tells more.
  [[nodiscard]] R resolution(const Moment<R>& m) const {
    return std::min(m.resolution_of(Channel::frequency), grid_);
  }

  static constexpr std::size_t kLeastPairs = 2;
  static constexpr R kFinestGrid = R(0.01);

  Ring<Pair, 16> pairs_;
  LastDwell before_;
  Dwell here_;
  TimeOf<R> here_at_ = kNoTime;
  R last_load_ = Finding<R>::kNone;
  R slope_ = R(0);  // the pairs' weighted median, Hz per percent of load
  R low_ = R(1000);
  R high_ = R(-1000);
  R hz_{};
  R grid_ = R(1);  // Hz
  Blind blind_ = Blind::never_steady;
  std::uint8_t blocks_ = 0;  // that here_ is the mean of, up to a minute
  bool paired_ = false;      // here_ with the load before
};

}  // namespace telltale
