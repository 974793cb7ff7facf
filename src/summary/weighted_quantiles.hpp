// WeightedQuantiles: quantiles of a stream of weighted values, in bounded
// memory.
#pragma once

#include <cstddef>
#include <span>
#include <vector>

#include "summary/value_table.hpp"

namespace telltale::host {

/// Exact while there are at most kExact different values, which is what
/// resolution leaves of most columns; then a grid whose cells are at most
/// 1/2000 of the span from p01 to p99 wide, so that every quantile is within
/// 0.5 % of that span (contract section 8).
class WeightedQuantiles {
 public:
  static constexpr std::size_t kExact = ValueTable::kMost;

  /// REQUIRES: x is finite, weight is above 0.
  void add(double x, double weight) {
    if (!add_exact(x, weight)) add_to_grid(x, weight);
  }
  /// The same, as long as all different values can be kept; false, with nothing
  /// done, from then on.
  bool add_exact(double x, double weight) {
    return width_ == 0.0 && table_.add(x, weight);
  }
  /// The same for many of one weight; how many were taken.
  std::size_t add_exact(std::span<const double> values, double weight) {
    return width_ == 0.0 ? table_.add(values, weight) : 0;
  }
  /// All different values, rising; once there are too many of them, what
  /// stands for them.
  [[nodiscard]] std::vector<WeightedValue> values() const;

  /// The smallest value whose cumulative weight reaches p of the whole,
  /// 0 <= p <= 1; NaN while empty.
  [[nodiscard]] double quantile(double p) const {
    return quantile_of(values(), p);
  }
  /// The same of values(), for whoever asks for several.
  [[nodiscard]] static double quantile_of(std::span<const WeightedValue> values,
                                          double p);

 private:
  void add_to_grid(double x, double weight);
  void put_in_cell(double x, double weight);
  void start_grid();
  void widen(double x);

  ValueTable table_;
  std::vector<double> cells_;
  double low_ = 0.0;
  double width_ = 0.0;   // 0: no grid yet
  WeightedValue below_;  // what lies beyond the grid: rare outliers
  WeightedValue above_;
  double total_ = 0.0;
};

}  // namespace telltale::host
