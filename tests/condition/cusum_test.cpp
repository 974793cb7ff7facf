// Tabular CUSUM against the handbooks.
#include "telltale/condition/cusum.hpp"

#include <cmath>
#include <random>
#include <vector>

#include "catch.hpp"

namespace telltale {
namespace {

// NIST/SEMATECH e-Handbook 6.3.2.3; sums recomputed, first signal at 14.
TEST_CASE("the NIST handbook example comes out") {
  const double x[] = {324.925, 324.675, 324.725, 324.350, 325.350,
                      325.225, 324.125, 324.525, 325.225, 324.600,
                      324.625, 325.150, 328.325, 327.250, 327.825,
                      328.500, 326.675, 327.775, 326.875, 328.350};
  const double high[] = {0,      0,     0,       0,      0.0325,  0,      0,
                         0,      0,     0,       0,      0,       3.0075, 4.94,
                         7.4475, 10.63, 11.9875, 14.445, 16.0025, 19.035};
  const double low[] = {0,     0.0075, 0,     0.3325, 0, 0, 0.5575,
                        0.715, 0.1725, 0.255, 0.3125, 0, 0, 0,
                        0,     0,      0,     0,      0, 0};
  Cusum<double> cusum(325, 0.3175, 4.1959);
  int first = 0;
  for (int i = 0; i < 20; ++i) {
    const int signal = cusum.add(x[i]);
    CHECK(cusum.high() == Approx(high[i]).margin(1e-9));
    CHECK(cusum.low() == Approx(low[i]).margin(1e-9));
    if (signal != 0 && first == 0) first = i + 1;
  }
  CHECK(first == 14);
}

// Introduction to Statistical Quality Control, 7th ed., tables 9.1 and 9.2:
// signal at 29 with run counter 7, so the shift began after observation 22.
TEST_CASE("the textbook example dates the shift") {
  const double x[] = {9.45,  7.99,  9.29,  11.66, 12.16, 10.18, 8.04,  11.46,
                      9.20,  10.34, 9.03,  11.47, 10.51, 9.40,  10.08, 9.37,
                      10.62, 10.31, 8.52,  10.84, 10.90, 9.33,  12.29, 11.50,
                      10.60, 11.08, 10.38, 11.62, 11.31, 10.52};
  Cusum<double> cusum(10, 0.5, 5);
  for (int i = 1; i <= 30; ++i) {
    const int signal = cusum.add(x[i - 1]);
    if (i < 29) REQUIRE(signal == 0);
    if (i == 29) {
      CHECK(signal == 1);
      CHECK(cusum.high() == Approx(5.28).margin(1e-9));
      CHECK(cusum.high_run() == 7);
    }
  }
}

// Average run lengths of the two-sided scheme: R package spc (xcusum.arl),
// which reproduces Lucas and Crosier 1982. 20,000 fixed-seed runs a cell; the
// standard error is 0.7 %, accepted are four.
TEST_CASE("average run lengths agree with the exact ones") {
  struct Cell {
    double h, shift, arl;
  };
  for (const Cell cell : {Cell{4, 0, 167.684}, Cell{4, 1, 8.3831},
                          Cell{5, 0.5, 37.996}, Cell{5, 1, 10.3760}}) {
    std::mt19937_64 g(20260601);
    const auto normal = [&g] {  // Box-Muller: the same on every library
      const double u = (static_cast<double>(g() >> 11) + 0.5) * 0x1p-53;
      const double v = (static_cast<double>(g() >> 11) + 0.5) * 0x1p-53;
      return std::sqrt(-2 * std::log(u)) * std::cos(6.283185307179586 * v);
    };
    double sum = 0;
    constexpr int kRuns = 20'000;
    for (int run = 0; run < kRuns; ++run) {
      Cusum<double> cusum(0, 0.5, cell.h);
      int length = 1;
      while (cusum.add(normal() + cell.shift) == 0) ++length;
      sum += length;
    }
    INFO("h " << cell.h << " shift " << cell.shift);
    CHECK(sum / kRuns == Approx(cell.arl).epsilon(0.03));
  }
}

}  // namespace
}  // namespace telltale
