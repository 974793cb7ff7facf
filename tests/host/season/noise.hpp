// Noise that is the same on every machine.
#pragma once

#include <cmath>
#include <cstdint>
#include <numbers>
#include <random>
#include <vector>

namespace telltale::host::season {

/// Standard normal numbers by Box and Muller from mt19937_64, whose numbers
/// the standard fixes; those of std::normal_distribution it does not.
class Noise {
 public:
  explicit Noise(std::uint64_t seed) : engine_(seed) {}

  double uniform() {
    return (static_cast<double>(engine_() >> 11U) + 0.5) * 0x1.0p-53;
  }
  double normal() {
    return std::sqrt(-2.0 * std::log(uniform())) *
           std::cos(2.0 * std::numbers::pi * uniform());
  }
  /// A first-order process of unit variance.
  std::vector<double> series(std::size_t n, double correlation = 0.0) {
    std::vector<double> out(n);
    double now = normal();
    const double fresh = std::sqrt(1.0 - correlation * correlation);
    for (double& x : out) {
      x = now;
      now = correlation * now + fresh * normal();
    }
    return out;
  }

 private:
  std::mt19937_64 engine_;
};

}  // namespace telltale::host::season
