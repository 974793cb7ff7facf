#include "season/robust_fit.hpp"

#include <algorithm>
#include <cmath>

#include "season/small_matrix.hpp"
#include "telltale/condition/median.hpp"
#include "telltale/condition/trend.hpp"

namespace telltale::host::season {
namespace {

constexpr double kHuber = 1.345;        // 95 % efficient at the normal
constexpr double kMadToSigma = 0.6745;  // as R's MASS and statsmodels use it
constexpr int kMostRounds = 200;

class Reweighting {
 public:
  Reweighting(std::span<const double> x, std::size_t p,
              std::span<const double> y, std::span<const Prior> priors)
      : x_(x), p_(p), n_(y.size()), y_(y), priors_(priors) {}

  RobustFit run() {
    RobustFit fit;
    fit.weight.assign(n_, 1.0);
    fit.residual.assign(n_, 0.0);
    // The first round has no scale yet: spread of y stands in for it where
    // priors want one.
    fit.scale = spread_of_y();
    if (n_ == 0 || !solve(fit)) return fit;
    for (int round = 0; round < kMostRounds; ++round) {
      fit.scale = mad(fit.residual);
      if (!(fit.scale > 0.0)) break;  // more than half fit exactly
      reweigh(fit);
      const std::vector<double> before = fit.beta;
      if (!solve(fit)) return fit;
      double moved = 0.0;
      double size = 0.0;
      for (std::size_t j = 0; j < p_; ++j) {
        moved = std::max(moved, std::abs(fit.beta[j] - before[j]));
        size = std::max(size, std::abs(fit.beta[j]));
      }
      if (moved <= 1e-12 * size) break;
    }
    fit.ok = settle_covariance(fit);
    return fit;
  }

 private:
  [[nodiscard]] double cell(std::size_t i, std::size_t j) const {
    return x_[i * p_ + j];
  }
  [[nodiscard]] bool has_prior(std::size_t j) const {
    return !priors_.empty() && std::isfinite(priors_[j].sd);
  }
  [[nodiscard]] double spread_of_y() const {
    std::vector<double> off(y_.begin(), y_.end());
    const double middle = median_in_place(std::span<double>(off));
    for (double& v : off) v = std::abs(v - middle);
    const double s = median_in_place(std::span<double>(off)) / kMadToSigma;
    return s > 0.0 ? s : 1.0;
  }
  [[nodiscard]] static double mad(const std::vector<double>& residual) {
    std::vector<double> off(residual.size());
    std::transform(residual.begin(), residual.end(), off.begin(),
                   [](double r) { return std::abs(r); });
    return median_in_place(std::span<double>(off)) / kMadToSigma;
  }
  void reweigh(RobustFit& fit) const {
    const double edge = kHuber * fit.scale;
    for (std::size_t i = 0; i < n_; ++i) {
      const double off = std::abs(fit.residual[i]);
      fit.weight[i] = off <= edge ? 1.0 : edge / off;
    }
  }
  /// (X'WX / s2 + P) b = X'Wy / s2 + P m
  bool solve(RobustFit& fit) const {
    const double per_variance = 1.0 / (fit.scale * fit.scale);
    SmallMatrix a(p_);
    std::vector<double> b(p_, 0.0);
    for (std::size_t i = 0; i < n_; ++i) {
      const double w = fit.weight[i] * per_variance;
      for (std::size_t j = 0; j < p_; ++j) {
        b[j] += w * cell(i, j) * y_[i];
        for (std::size_t k = 0; k <= j; ++k) {
          a(j, k) += w * cell(i, j) * cell(i, k);
        }
      }
    }
    for (std::size_t j = 0; j < p_; ++j) {
      if (!has_prior(j)) continue;
      const double precision = 1.0 / (priors_[j].sd * priors_[j].sd);
      a(j, j) += precision;
      b[j] += precision * priors_[j].mean;
    }
    if (!a.factor()) return false;
    fit.beta = a.solve(b);
    for (std::size_t i = 0; i < n_; ++i) {
      double expected = 0.0;
      for (std::size_t j = 0; j < p_; ++j) {
        expected += cell(i, j) * fit.beta[j];
      }
      fit.residual[i] = y_[i] - expected;
    }
    return true;
  }
  bool settle_covariance(RobustFit& fit) const {
    if (n_ <= p_) return false;
    const double n = static_cast<double>(n_);
    const double free = n - static_cast<double>(p_);
    double psi_square = 0.0;
    double inside = 0.0;
    for (std::size_t i = 0; i < n_; ++i) {
      const double psi = fit.weight[i] * fit.residual[i];
      psi_square += psi * psi;
      if (fit.weight[i] >= 1.0) inside += 1.0;
    }
    const double mean_slope = std::max(inside / n, 0.1);
    // Huber's correction for the curvature being estimated too.
    const double correction =
        1.0 + static_cast<double>(p_) / n * (1.0 - mean_slope) / mean_slope;
    double variance =
        correction * correction * psi_square / free / (mean_slope * mean_slope);
    variance = std::max(variance, 1e-300);
    SmallMatrix a(p_);
    for (std::size_t i = 0; i < n_; ++i) {
      for (std::size_t j = 0; j < p_; ++j) {
        for (std::size_t k = 0; k <= j; ++k) {
          a(j, k) += cell(i, j) * cell(i, k) / variance;
        }
      }
    }
    for (std::size_t j = 0; j < p_; ++j) {
      if (has_prior(j)) a(j, j) += 1.0 / (priors_[j].sd * priors_[j].sd);
    }
    if (!a.factor()) return false;
    fit.covariance = a.inverse();
    return true;
  }

  std::span<const double> x_;
  std::size_t p_;
  std::size_t n_;
  std::span<const double> y_;
  std::span<const Prior> priors_;
};

}  // namespace

RobustFit robust_fit(std::span<const double> x, std::size_t columns,
                     std::span<const double> y, std::span<const Prior> priors) {
  return Reweighting(x, columns, y, priors).run();
}

RobustLine robust_line(std::span<const double> x, std::span<const double> y) {
  RobustLine line;
  const std::size_t n = y.size();
  if (n < 3) return line;
  double mean = 0.0;
  for (const double v : x) mean += v / static_cast<double>(n);
  std::vector<double> rows(2 * n, 1.0);
  double square = 0.0;
  for (std::size_t i = 0; i < n; ++i) {
    rows[2 * i + 1] = x[i] - mean;
    square += (x[i] - mean) * (x[i] - mean);
  }
  line.spread = std::sqrt(square / static_cast<double>(n));
  line.middle = mean;
  const bool sloped = line.spread > 1e-9 * (1.0 + std::abs(mean));
  std::vector<double> ones(n, 1.0);
  const RobustFit fit =
      sloped ? robust_fit(rows, 2, y) : robust_fit(ones, 1, y);
  if (!fit.ok) return line;
  const double r = std::max(
      0.0, detrended_autocorrelation(std::span<const double>(fit.residual)));
  const double wider = std::sqrt((1.0 + r) / (1.0 - r));
  line.ok = true;
  line.level = fit.beta[0];
  line.level_se = std::sqrt(fit.variance(0)) * wider;
  line.scale = fit.scale;
  line.slope = sloped ? fit.beta[1] : std::nan("");
  line.slope_se = sloped ? std::sqrt(fit.variance(1)) * wider : std::nan("");
  return line;
}

}  // namespace telltale::host::season
