// RobustFit against R's MASS::rlm.
#include "season/robust_fit.hpp"

#include <cmath>
#include <limits>

#include "catch.hpp"
#include "noise.hpp"
#include "published_series.hpp"

namespace telltale::host::season {
namespace {

using published::counted_from;
using published::kPhones;

// Brownlee's stack loss data (R datasets): air flow, water, acid, loss.
constexpr double kStack[21][4] = {
    {80, 27, 89, 42}, {80, 27, 88, 37}, {75, 25, 90, 37}, {62, 24, 87, 28},
    {62, 22, 87, 18}, {62, 23, 87, 18}, {62, 24, 93, 19}, {62, 24, 93, 20},
    {58, 23, 87, 15}, {58, 18, 80, 14}, {58, 18, 89, 14}, {58, 17, 88, 13},
    {58, 18, 82, 11}, {58, 19, 93, 12}, {50, 18, 89, 8},  {50, 18, 86, 7},
    {50, 19, 72, 8},  {50, 19, 79, 8},  {50, 20, 80, 9},  {56, 20, 82, 15},
    {70, 20, 91, 15}};

// MASS::rlm(stack.loss ~ ., k = 1.345, acc = 1e-10); statsmodels differs from
// it by 1e-5.
TEST_CASE("stack loss equals R's robust regression") {
  std::vector<double> x;
  std::vector<double> y;
  for (const auto& row : kStack) {
    x.insert(x.end(), {1.0, row[0], row[1], row[2]});
    y.push_back(row[3]);
  }
  const RobustFit fit = robust_fit(x, 4, y);
  REQUIRE(fit.ok);
  CHECK(fit.beta[0] == Approx(-41.026485).margin(1e-4));
  CHECK(fit.beta[1] == Approx(0.829386).margin(1e-4));
  CHECK(fit.beta[2] == Approx(0.926059).margin(1e-4));
  CHECK(fit.beta[3] == Approx(-0.127846).margin(1e-4));
  CHECK(fit.scale == Approx(2.440489).margin(1e-3));
}

// MASS::rlm(calls ~ year) for MASS::phones.
TEST_CASE("miscounted years do not carry the line away") {
  std::vector<double> x;
  for (const double year : counted_from(50.0, kPhones.size())) {
    x.insert(x.end(), {1.0, year});
  }
  const RobustFit fit = robust_fit(x, 2, kPhones);
  REQUIRE(fit.ok);
  CHECK(fit.beta[1] == Approx(2.03960046724).margin(2e-3));
  CHECK(fit.scale == Approx(9.00902832547).margin(2e-2));
}

TEST_CASE("what is known beforehand gives way to data") {
  Noise noise(13);
  const double nothing = std::numeric_limits<double>::infinity();
  const auto fitted = [&](std::size_t n, double sd) {
    std::vector<double> x;
    std::vector<double> y;
    for (std::size_t i = 0; i < n; ++i) {
      const double at = noise.uniform();
      x.insert(x.end(), {1.0, at});
      y.push_back(4.0 + 3.0 * at + 0.3 * noise.normal());
    }
    const std::vector<Prior> priors = {{0.0, nothing}, {1.0, sd}};
    return robust_fit(x, 2, y, priors).beta[1];
  };
  CHECK(fitted(400, 1.0) == Approx(3.0).margin(0.25));
  CHECK(fitted(6, 0.001) == Approx(1.0).margin(0.01));
}

TEST_CASE("columns that coincide are no fit") {
  const std::vector<double> x = {1, 2, 1, 2, 1, 2, 1, 2};
  CHECK_FALSE(robust_fit(x, 2, std::vector<double>{1, 2, 3, 4}).ok);
}

}  // namespace
}  // namespace telltale::host::season
