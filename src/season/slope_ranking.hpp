// SlopeRanking: order statistics of all pairwise slopes, quickly.
#pragma once

#include <cmath>
#include <cstddef>
#include <cstdint>
#include <optional>
#include <span>
#include <vector>

namespace telltale::host::season {

/// The same numbers as telltale::theil_sen_line without working out all n^2 / 2
/// slopes: in some n^1.5 steps and places of memory (randomised slope
/// selection: Matousek 1991; Dillencourt, Mount and Netanyahu 1992).
///
/// Ordered by y - s t, two points change places where s passes their slope. So
/// the inversions of that order count the slopes below s (by sorting, in n log
/// n steps), and an insertion sort from the order at one s to the order at
/// another moves exactly the pairs whose slopes lie between. A sample of the
/// slopes says between which two s to look for a rank.
class SlopeRanking {
 public:
  /// REQUIRES: all finite, t rises (equal times allowed), some two differ.
  SlopeRanking(std::span<const double> t, std::span<const double> y);

  /// The mean of the middle two where the count is even.
  [[nodiscard]] double median() const;
  struct Limits {
    double low;
    double high;
  };
  /// See telltale::slope_ranks.
  [[nodiscard]] Limits limits(double half_width) const;
  /// Pairs of points at different times.
  [[nodiscard]] std::size_t pairs() const { return pairs_; }

 private:
  struct Point {
    double t;
    double y;
  };
  /// A point's place in the order at some slope.
  struct Place {
    double key;
    std::uint32_t point;
  };
  /// Slopes that a rank's lies between, says the sample.
  struct Bracket {
    double low = -HUGE_VAL;
    double high = HUGE_VAL;
    std::optional<double> tied;  // and that all between are this one
  };

  void take_sample();
  [[nodiscard]] static double slope(const Point& a, const Point& b) {
    return (b.y - a.y) / (b.t - a.t);
  }
  [[nodiscard]] double key(std::uint32_t point, double slope) const;
  [[nodiscard]] std::vector<Place> order_before_all() const;
  /// Brings the order before all slopes to the one at `slope`. How many slopes
  /// are below it.
  std::size_t order_at(double slope, std::vector<Place>& order) const;
  [[nodiscard]] std::size_t below(double slope) const;
  /// The slopes between two, those of `from`'s order and `to`.
  [[nodiscard]] std::vector<double> slopes_up_to(
      double to, std::vector<Place>& from) const;
  [[nodiscard]] Bracket bracket(std::size_t rank) const;
  /// Mean of `count` (one or two) neighbours from that rank on, counted from 0.
  [[nodiscard]] double ranked(std::size_t rank, std::size_t count) const;

  std::vector<Point> points_;  // by time, then by y
  Point middle_{};             // keeps the keys small
  std::size_t pairs_ = 0;
  std::vector<double> sample_;  // of the slopes, sorted
};

}  // namespace telltale::host::season
