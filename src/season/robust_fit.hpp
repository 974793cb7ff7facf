// Huber regression of a few columns, with what is known beforehand.
#pragma once

#include <cstddef>
#include <span>
#include <vector>

namespace telltale::host::season {

/// What is known of a coefficient before any data: a mean and how far it may
/// be off (standard deviation). An infinite sd knows nothing.
struct Prior {
  double mean = 0.0;
  double sd = 0.0;
};

struct RobustFit {
  bool ok = false;  // false: fewer rows than columns, or columns that coincide
  std::vector<double> beta;
  std::vector<double> covariance;  // row by row
  double scale = 0.0;              // of the residuals: MAD / 0.6745
  std::vector<double> residual;
  std::vector<double> weight;  // 1: counts in full

  [[nodiscard]] double variance(std::size_t i) const {
    return covariance[i * beta.size() + i];
  }
};

/// Huber's M-estimate (k = 1.345, scale by MAD about zero, as usual:
/// Huber 1981) by reweighting until the coefficients stand still. `x` holds
/// one row of columns after another. `priors` is empty or has one entry a
/// column; they enter as one more normal observation of each coefficient. The
/// covariance is Huber's first form (1973), for independent residuals.
/// REQUIRES: all finite, x.size() = columns * y.size().
RobustFit robust_fit(std::span<const double> x, std::size_t columns,
                     std::span<const double> y,
                     std::span<const Prior> priors = {});

/// A straight line y = level + slope * (x - middle), middle the weighted mean
/// of x, its errors widened for serial correlation of the residuals in order.
struct RobustLine {
  bool ok = false;
  double middle = 0.0;
  double level = 0.0;
  double level_se = 0.0;
  double slope = 0.0;
  double slope_se = 0.0;
  double spread = 0.0;  // sd of x
  double scale = 0.0;   // of the residuals
};
RobustLine robust_line(std::span<const double> x, std::span<const double> y);

}  // namespace telltale::host::season
