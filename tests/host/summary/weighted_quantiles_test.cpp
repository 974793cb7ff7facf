// Quantiles by weight against sorting everything: the smallest value whose
// cumulative weight reaches p; an estimate is within 0.5 % of the span from p01
// to p99 (contract section 8).
#include "summary/weighted_quantiles.hpp"

#include <algorithm>
#include <cmath>
#include <random>
#include <utility>
#include <vector>

#include "catch.hpp"

namespace telltale::host {
namespace {

class Sorted {
 public:
  void add(double x, double weight) { all_.emplace_back(x, weight); }
  double quantile(double p) {
    std::sort(all_.begin(), all_.end());
    double total = 0.0;
    for (const auto& [x, w] : all_) total += w;
    double sum = 0.0;
    for (const auto& [x, w] : all_) {
      sum += w;
      if (sum >= p * total * (1.0 - 1e-12)) return x;
    }
    return all_.back().first;
  }

 private:
  std::vector<std::pair<double, double>> all_;
};

struct Both {
  WeightedQuantiles quick;
  Sorted sorted;

  void add(double x, double weight = 1.0) {
    quick.add(x, weight);
    sorted.add(x, weight);
  }
  /// The worst error in percent of the span from p01 to p99.
  double worst() {
    const double span = sorted.quantile(0.99) - sorted.quantile(0.01);
    double out = 0.0;
    for (const double p : {0.01, 0.05, 0.25, 0.5, 0.75, 0.95, 0.99}) {
      const double off = std::abs(quick.quantile(p) - sorted.quantile(p));
      out = std::max(out, off / span * 100.0);
    }
    return out;
  }
};

// By hand: weights 1, 2, 3, 4 on 10, 20, 30, 40; half of them is 5.
TEST_CASE("weighted quantiles: a boundary belongs to the smaller value") {
  WeightedQuantiles q;
  for (int i = 4; i >= 1; --i) q.add(10.0 * i, i);
  CHECK(q.quantile(0.0) == 10.0);
  CHECK(q.quantile(0.1) == 10.0);
  CHECK(q.quantile(0.101) == 20.0);
  CHECK(q.quantile(0.3) == 20.0);
  CHECK(q.quantile(0.5) == 30.0);
  CHECK(q.quantile(0.6) == 30.0);
  CHECK(q.quantile(0.601) == 40.0);
  CHECK(q.quantile(1.0) == 40.0);
}

TEST_CASE("weighted quantiles: nothing has none, one value is all of them") {
  WeightedQuantiles q;
  CHECK(std::isnan(q.quantile(0.5)));
  q.add(-7.0, 0.25);
  for (const double p : {0.0, 0.5, 1.0}) CHECK(q.quantile(p) == -7.0);
}

// Ten weights of a tenth do not add up to one in binary.
TEST_CASE("weighted quantiles: rounding moves no boundary") {
  WeightedQuantiles q;
  for (int i = 1; i <= 10; ++i) q.add(i, 0.1);
  for (int i = 1; i <= 10; ++i) CHECK(q.quantile(i / 10.0) == i);
}

TEST_CASE("weighted quantiles: a column of few values is exact") {
  std::mt19937 engine(1);
  std::normal_distribution<double> noise(60.0, 0.4);
  std::uniform_real_distribution<double> weight(0.5, 3.0);
  Both both;
  for (int i = 0; i < 200000; ++i) {
    both.add(std::round(noise(engine) * 100.0) / 100.0, weight(engine));
  }
  CHECK(both.worst() == 0.0);
}

TEST_CASE("weighted quantiles: of continuous values within 0.5 % of the span") {
  for (const int shape : {0, 1, 2, 3, 4, 5}) {
    INFO(shape);
    std::mt19937 engine(static_cast<unsigned>(shape) + 7);
    std::normal_distribution<double> normal(0.0, 1.0);
    std::uniform_real_distribution<double> weight(0.1, 5.0);
    Both both;
    for (int i = 0; i < 60000; ++i) {
      const double n = normal(engine);
      double x = n;
      if (shape == 1) x = 230.0 + 0.01 * n;    // a small spread far off
      if (shape == 2) x = std::exp(2.0 * n);   // a long tail
      if (shape == 3) x = i * 1e-3 + 0.1 * n;  // a ramp
      if (shape == 4) x = (i / 20000) * 50.0 + 0.1 * n;     // three levels
      if (shape == 5) x = i < 5000 ? n * 1e-3 : 100.0 * n;  // quiet, then wild
      both.add(x, shape % 2 == 0 ? 1.0 : weight(engine));
    }
    CHECK(both.worst() < 0.5);
  }
}

// 0.6 % of wild readings are beyond p99 and p01: the span knows nothing of
// them, and a grid that is widened to hold them loses what the span needs.
TEST_CASE("weighted quantiles: a few wild values do not coarsen the rest") {
  std::mt19937 engine(3);
  std::normal_distribution<double> normal(230.0, 0.5);
  Both both;
  for (int i = 0; i < 60000; ++i) {
    both.add(i % 170 == 169 ? 15000.0 + i : normal(engine));
  }
  CHECK(both.worst() < 0.5);
}

// Ten readings a second: the warm-up fills the exact table, half a day at one
// temperature follows, and the warm-up is less than a hundredth of it all.
TEST_CASE("weighted quantiles: a wide beginning does not coarsen the rest") {
  std::mt19937 engine(4);
  std::normal_distribution<double> normal(84.0, 0.1);
  Both both;
  for (int i = 0; i < 450000; ++i) {
    both.add(i < 4100 ? 20.0 + 64.0 * i / 4100.0 : normal(engine));
  }
  CHECK(both.worst() < 0.5);
}

}  // namespace
}  // namespace telltale::host
