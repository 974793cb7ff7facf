// SlopeRanking: order statistics of all pairwise slopes, quickly.
#pragma once

#include <cstddef>
#include <span>
#include <vector>

namespace telltale::host::season {

/// The same numbers as telltale::theil_sen_line, several times as fast for some
/// hundred points: a sample of the slopes brackets the ranks that are asked
/// for, one pass counts and gathers what lies inside the brackets.
class SlopeRanking {
 public:
  /// REQUIRES: all finite, some two times differ.
  SlopeRanking(std::span<const double> t, std::span<const double> y);

  /// The mean of the middle two where the count is even.
  [[nodiscard]] double median() const;
  struct Limits {
    double low;
    double high;
  };
  /// See telltale::slope_ranks.
  [[nodiscard]] Limits limits(double half_width) const;
  [[nodiscard]] std::size_t pairs() const { return slopes_.size(); }

 private:
  /// The slopes of those ranks, which rise, each counted from 0.
  [[nodiscard]] double ranked(std::size_t rank) const;

  std::vector<double> slopes_;
  std::vector<double> sample_;  // some of them, sorted
};

}  // namespace telltale::host::season
