// WeightedQuantiles: quantiles of a stream of weighted values, in bounded
// memory.
#pragma once

#include <cstddef>
#include <cstdint>
#include <vector>

namespace telltale::host {

/// Exact while there are at most kExact different values, which is what
/// resolution leaves of most columns; then a grid whose cells are at most
/// 1/2000 of the span from p01 to p99 wide, so that every quantile is within
/// 0.5 % of that span (contract section 8).
class WeightedQuantiles {
 public:
  static constexpr std::size_t kExact = 4096;

  /// REQUIRES: x is finite, weight is above 0.
  void add(double x, double weight);

  /// The smallest value whose cumulative weight reaches p of the whole,
  /// 0 <= p <= 1; NaN while empty.
  [[nodiscard]] double quantile(double p) const;

 private:
  struct Slot {
    double x = 0.0;
    double weight = 0.0;  // 0: free
  };

  bool add_exact(double x, double weight);
  void add_to_grid(double x, double weight);
  void start_grid();
  void widen(double x);
  [[nodiscard]] std::vector<Slot> sorted() const;

  std::vector<Slot> table_;  // open addressing, by the value's bits
  std::size_t used_ = 0;
  std::size_t last_ = 0;  // where the value before went

  std::vector<double> cells_;
  double low_ = 0.0;
  double width_ = 0.0;  // 0: no grid yet
  Slot below_;          // what lies beyond the grid: rare outliers
  Slot above_;
  double total_ = 0.0;
};

}  // namespace telltale::host
