// SmallMatrix: a symmetric matrix of a few rows, factored and solved.
#pragma once

#include <cmath>
#include <cstddef>
#include <vector>

namespace telltale::host::season {

/// Symmetric and positive definite; only the lower triangle is kept. After
/// factor() it holds the Cholesky factor of the matrix scaled to a unit
/// diagonal, so that columns of very different size do no harm.
class SmallMatrix {
 public:
  explicit SmallMatrix(std::size_t n) : n_(n), a_(n * n, 0.0), scale_(n) {}

  /// REQUIRES: column <= row
  double& operator()(std::size_t row, std::size_t column) {
    return a_[row * n_ + column];
  }

  /// False where the matrix is not (numerically) positive definite.
  bool factor() {
    for (std::size_t j = 0; j < n_; ++j) {
      const double d = a_[j * n_ + j];
      if (!(d > 0.0) || !std::isfinite(d)) return false;
      scale_[j] = 1.0 / std::sqrt(d);
    }
    for (std::size_t j = 0; j < n_; ++j) {
      for (std::size_t k = 0; k <= j; ++k) {
        a_[j * n_ + k] *= scale_[j] * scale_[k];
      }
    }
    for (std::size_t j = 0; j < n_; ++j) {
      for (std::size_t k = 0; k <= j; ++k) {
        double sum = a_[j * n_ + k];
        for (std::size_t m = 0; m < k; ++m) {
          sum -= a_[j * n_ + m] * a_[k * n_ + m];
        }
        if (k < j) {
          a_[j * n_ + k] = sum / a_[k * n_ + k];
        } else if (sum > kLeastPivot) {
          a_[j * n_ + j] = std::sqrt(sum);
        } else {
          return false;
        }
      }
    }
    return true;
  }
  /// REQUIRES: factor() said true.
  [[nodiscard]] std::vector<double> solve(std::vector<double> b) const {
    for (std::size_t j = 0; j < n_; ++j) {
      b[j] *= scale_[j];
      for (std::size_t m = 0; m < j; ++m) b[j] -= a_[j * n_ + m] * b[m];
      b[j] /= a_[j * n_ + j];
    }
    for (std::size_t j = n_; j-- > 0;) {
      for (std::size_t m = j + 1; m < n_; ++m) b[j] -= a_[m * n_ + j] * b[m];
      b[j] /= a_[j * n_ + j];
    }
    for (std::size_t j = 0; j < n_; ++j) b[j] *= scale_[j];
    return b;
  }
  /// Row by row. REQUIRES: factor() said true.
  [[nodiscard]] std::vector<double> inverse() const {
    std::vector<double> out(n_ * n_);
    for (std::size_t j = 0; j < n_; ++j) {
      std::vector<double> unit(n_, 0.0);
      unit[j] = 1.0;
      const std::vector<double> column = solve(std::move(unit));
      for (std::size_t i = 0; i < n_; ++i) out[i * n_ + j] = column[i];
    }
    return out;
  }

 private:
  // Of the unit diagonal: below, columns coincide as far as doubles can tell.
  static constexpr double kLeastPivot = 1e-12;

  std::size_t n_;
  std::vector<double> a_;
  std::vector<double> scale_;
};

}  // namespace telltale::host::season
