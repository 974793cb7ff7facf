// The few transcendental functions the model needs, made of IEEE operations
// only. The C library's own differ in the last bit between machines, and a
// seed must give the same bytes everywhere.
#pragma once

namespace telltale::host::sim {

/// e^x, relative error below 1e-14 for |x| < 700; 0 below -700.
double exp_of(double x);

/// Natural logarithm, error below 1e-14. REQUIRES: x > 0 and finite.
double log_of(double x);

/// sin(2 pi x): x in turns, error below 1e-13 for |x| < 1e6.
double sin_turns(double x);

/// base^exponent. REQUIRES: base > 0.
double pow_of(double base, double exponent);

/// One implicit step of length `dt` of a first-order lag towards `target`;
/// stable for every dt, and `target` itself where tau is 0.
constexpr double lag(double value, double target, double dt, double tau) {
  return value + (target - value) * (dt / (tau + dt));
}

}  // namespace telltale::host::sim
