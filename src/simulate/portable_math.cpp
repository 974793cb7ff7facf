// Series after range reduction; only + - * / and exact scaling are used.
#include "simulate/portable_math.hpp"

#include <array>
#include <cmath>
#include <cstddef>

namespace telltale::host::sim {
namespace {

// ln 2 in two parts, so that k * ln 2 is exact to double precision.
constexpr double kLn2High = 6.93147180369123816490e-01;
constexpr double kLn2Low = 1.90821492927058770002e-10;
constexpr double kPi = 3.14159265358979323846;

// 1 / n!, for e^x.
constexpr std::array kFactorials = [] {
  std::array<double, 14> c{1.0};
  for (std::size_t n = 1; n < c.size(); ++n) {
    c[n] = c[n - 1] / static_cast<double>(n);
  }
  return c;
}();

// 1 / (2n + 1), for atanh.
constexpr std::array kOdd = [] {
  std::array<double, 11> c{};
  for (std::size_t n = 0; n < c.size(); ++n) {
    c[n] = 1.0 / (2.0 * static_cast<double>(n) + 1.0);
  }
  return c;
}();

// (-1)^n / (2n + 1)!, for the sine.
constexpr std::array kSine = [] {
  std::array<double, 11> c{1.0};
  for (std::size_t n = 1; n < c.size(); ++n) {
    const auto k = static_cast<double>(2 * n);
    c[n] = -c[n - 1] / (k * (k + 1.0));
  }
  return c;
}();

template <std::size_t N>
double horner(const std::array<double, N>& c, double x) {
  double sum = c[N - 1];
  for (std::size_t n = N - 1; n > 0; --n) sum = sum * x + c[n - 1];
  return sum;
}

}  // namespace

double exp_of(double x) {
  if (x < -700.0) return 0.0;
  if (x > 700.0) x = 700.0;
  const double k = std::floor(x * 1.4426950408889634 + 0.5);
  const double r = (x - k * kLn2High) - k * kLn2Low;  // |r| <= ln 2 / 2
  return std::ldexp(horner(kFactorials, r), static_cast<int>(k));
}

double log_of(double x) {
  int k = 0;
  double m = std::frexp(x, &k);  // 0.5 <= m < 1
  if (m < 0.70710678118654752) {
    m *= 2.0;
    --k;
  }
  // ln m = 2 atanh((m - 1) / (m + 1))
  const double s = (m - 1.0) / (m + 1.0);
  return k * kLn2High + (k * kLn2Low + 2.0 * s * horner(kOdd, s * s));
}

double sin_turns(double x) {
  double turn = x - std::floor(x);  // 0 <= turn < 1
  if (turn > 0.75) {
    turn -= 1.0;
  } else if (turn > 0.25) {
    turn = 0.5 - turn;
  }
  const double a = 2.0 * kPi * turn;  // |a| <= pi / 2
  return a * horner(kSine, a * a);
}

double pow_of(double base, double exponent) {
  return exp_of(exponent * log_of(base));
}

}  // namespace telltale::host::sim
