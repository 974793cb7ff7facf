// Projection: what a series leaves when a line and changes are fitted to it.
#pragma once

#include <cmath>
#include <cstddef>
#include <span>
#include <utility>
#include <vector>

#include "season/change_scan.hpp"

namespace telltale::host::season {

/// An orthonormal basis of the columns fitted so far, and what y leaves.
class Projection {
 public:
  explicit Projection(std::span<const double> t) : t_(t) {
    column([](std::size_t) { return 1.0; });
    const double middle = t.empty() ? 0.0 : t[t.size() / 2];
    column([&](std::size_t i) { return t[i] - middle; });
  }

  void add(const Change& change) {
    column([&](std::size_t i) { return change.column(t_, i); });
  }
  void add_spell(std::size_t from, std::size_t to) {
    column([&](std::size_t i) { return i >= from && i < to ? 1.0 : 0.0; });
  }
  [[nodiscard]] std::size_t columns() const { return basis_.size(); }
  [[nodiscard]] const std::vector<std::vector<double>>& basis() const {
    return basis_;
  }
  [[nodiscard]] std::vector<double> residual(std::span<const double> y) const {
    std::vector<double> rest(y.begin(), y.end());
    for (const auto& q : basis_) take_out(q, rest);
    for (const auto& q : basis_) take_out(q, rest);  // twice is enough
    return rest;
  }

 private:
  template <class F>
  void column(F&& f) {
    std::vector<double> h(t_.size());
    for (std::size_t i = 0; i < h.size(); ++i) h[i] = f(i);
    const double before = dot(h, h);
    for (const auto& q : basis_) take_out(q, h);
    for (const auto& q : basis_) take_out(q, h);
    const double left = dot(h, h);
    if (!(left > 1e-12 * before)) return;  // nothing new
    const double scale = 1.0 / std::sqrt(left);
    for (double& x : h) x *= scale;
    basis_.push_back(std::move(h));
  }
  static double dot(const std::vector<double>& a,
                    const std::vector<double>& b) {
    double sum = 0.0;
    for (std::size_t i = 0; i < a.size(); ++i) sum += a[i] * b[i];
    return sum;
  }
  static void take_out(const std::vector<double>& q, std::vector<double>& h) {
    const double along = dot(q, h);
    for (std::size_t i = 0; i < h.size(); ++i) h[i] -= along * q[i];
  }

  std::span<const double> t_;
  std::vector<std::vector<double>> basis_;
};

}  // namespace telltale::host::season
