// ChannelSummary: the time-weighted statistics of one channel over one run.
#pragma once

#include <boost/accumulators/accumulators.hpp>
#include <boost/accumulators/statistics/stats.hpp>
#include <boost/accumulators/statistics/weighted_mean.hpp>
#include <boost/accumulators/statistics/weighted_variance.hpp>
#include <cstdint>
#include <span>
#include <vector>

#include "summary/channel_figures.hpp"
#include "summary/weighted_quantiles.hpp"
#include "telltale/base/time.hpp"

namespace telltale::host {

/// Contract section 8: a reading counts for the time until the channel's next,
/// at most 5 of that channel's median intervals; the last counts one.
class ChannelSummary {
 public:
  /// A reading that counts. REQUIRES: times rise, x is finite.
  void add(TimeMs at, double x);
  /// Many that count, one after the other. `even`: the step between them if it
  /// is always the same, else 0. REQUIRES: as many times as readings, not none.
  void add(std::span<const TimeMs> at, std::span<const double> x,
           DurationMs even);
  /// A reading that does not count (another phase): the one before it counts
  /// until here.
  void touch(TimeMs at);

  [[nodiscard]] bool empty() const { return samples_ == 0; }
  /// The figures. The summary is then used up. REQUIRES: !empty()
  [[nodiscard]] ChannelFigures finish();

 private:
  /// Counts time steps; almost all logs know only a few different ones.
  class StepCount {
   public:
    void add(std::int64_t step_ms, std::uint64_t times = 1);
    [[nodiscard]] std::int64_t median() const;
    [[nodiscard]] std::uint64_t count() const { return count_; }

   private:
    struct Step {
      std::int64_t ms;
      std::uint64_t n;
    };
    std::vector<Step> steps_;  // ascending
    std::size_t last_ = 0;
    std::uint64_t count_ = 0;
  };
  /// Before so many steps nothing is certain of the median interval.
  static constexpr std::uint64_t kSettled = 4096;
  struct Late {
    double x;
    std::int64_t step_ms;
  };
  /// Readings that wait with one and the same step.
  struct Alike {
    std::vector<double> x;
    std::int64_t step_ms = 0;
  };

  /// Whether readings from `at` on come each a step of `even` after the one
  /// before, and nothing is to be settled among them.
  [[nodiscard]] bool goes_on_evenly(TimeMs at, DurationMs even,
                                    std::size_t readings) const;
  void close_reading(TimeMs at);
  /// Counts what has waited and is surely short.
  void settle();
  void count_or_wait(std::span<const double> x, std::int64_t step_ms);
  void count(std::span<const double> x, std::int64_t weight_ms);
  void count(double x, double weight);

  using Statistics = boost::accumulators::accumulator_set<
      double,
      boost::accumulators::stats<
          boost::accumulators::tag::weighted_mean,
          boost::accumulators::tag::lazy_weighted_variance>,
      double>;

  /// Takes over what the quantiles know exactly into the statistics.
  void begin_statistics(std::span<const WeightedValue> values);

  // Of few different values all figures come from the values themselves, at
  // the end. Once there are many, sums are kept, of the distances from a
  // reading in their midst: what is added up is then as small as the spread.
  Statistics statistics_;
  double midst_ = 0.0;
  double least_ = 0.0;
  double most_ = 0.0;
  bool many_ = false;
  WeightedQuantiles quantiles_;
  StepCount steps_;
  // What waits until the median is known: most of it alike, then the rest.
  Alike alike_;
  std::vector<Late> late_;
  TimeMs open_at_ = kNoTime;
  TimeMs last_at_ = kNoTime;
  double open_x_ = 0.0;
  std::int64_t surely_short_ms_ = 0;
  std::uint64_t look_at_ = kSettled;  // steps, when the median is looked up
  std::uint64_t samples_ = 0;
};

}  // namespace telltale::host
