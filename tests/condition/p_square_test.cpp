// The P-square example of its paper.
#include "telltale/condition/p_square.hpp"

#include <algorithm>
#include <cmath>
#include <random>
#include <vector>

#include "catch.hpp"

namespace telltale {
namespace {

// Jain and Chlamtac, CACM 28(10), 1985, table I; final value by Boost's
// p_square_quantile as well.
TEST_CASE("the paper's twenty observations give the paper's markers") {
  const double x[] = {0.02,  0.15,  0.74,  3.39,  0.83,  22.37, 10.15,
                      15.43, 38.62, 15.92, 34.60, 10.28, 1.47,  0.40,
                      0.05,  11.39, 0.27,  0.42,  0.09,  11.37};
  const double middle[] = {0.74,     0.74,     2.178333, 4.752685, 4.752685,
                           9.274705, 9.274705, 9.274705, 9.274705, 6.297302,
                           6.297302, 6.297302, 6.297302, 4.440634, 4.440634};
  PSquare<double> median(0.5);
  for (int i = 0; i < 20; ++i) {
    median.add(x[i]);
    if (i >= 5) CHECK(median.value() == Approx(middle[i - 5]).margin(1e-6));
  }
  CHECK(median.value() == Approx(4.440634353260338).epsilon(1e-12));
  const double heights[] = {0.02, 0.493895, 4.440634, 17.203904, 38.62};
  const std::uint32_t positions[] = {1, 6, 10, 16, 20};
  for (std::size_t i = 0; i < 5; ++i) {
    CHECK(median.marker(i) == Approx(heights[i]).margin(1e-6));
    CHECK(median.marker_position(i) == positions[i]);
  }
}

TEST_CASE("on many exponential deviates it comes within one percent") {
  for (const double p : {0.05, 0.25, 0.5, 0.75, 0.95, 0.99}) {
    std::mt19937 g(1);
    PSquare<double> estimate(p);
    std::vector<double> all;
    for (int i = 0; i < 100'000; ++i) {
      const double u = (static_cast<double>(g()) + 0.5) / 4294967296.0;
      all.push_back(-std::log(1 - u));
      estimate.add(all.back());
    }
    const auto nth = static_cast<std::ptrdiff_t>(p * 100'000);
    std::nth_element(all.begin(), all.begin() + nth, all.end());
    CHECK(estimate.value() ==
          Approx(all[static_cast<std::size_t>(nth)]).epsilon(0.01));
  }
}

TEST_CASE("below five samples it is one of them") {
  PSquare<double> median(0.5);
  CHECK(std::isnan(median.value()));
  for (const double x : {3.0, 1.0, 2.0}) median.add(x);
  CHECK(median.value() == 2.0);
}

}  // namespace
}  // namespace telltale
