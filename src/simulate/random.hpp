// Random numbers that are the same on every machine: the engine's output is
// fixed by the C++ standard, the distributions are our own.
#pragma once

#include <cstdint>
#include <random>
#include <string_view>

namespace telltale::host::sim {

/// One stream of random numbers. Streams of one seed but different purposes
/// are independent, so that drawing more from one leaves the others alone.
class Random {
 public:
  Random(std::uint64_t seed, std::string_view purpose);

  /// 0 <= value < 1, 53 bits.
  double uniform();
  /// low <= value < high.
  double between(double low, double high);
  /// low <= value < high, evenly spread on a logarithmic scale.
  /// REQUIRES: 0 < low <= high
  double between_log(double low, double high);
  /// Mean 0, standard deviation 1.
  double normal();
  /// Exponentially distributed. REQUIRES: mean > 0
  double waiting(double mean);
  bool chance(double probability);
  /// 0 <= value < count. REQUIRES: count > 0
  std::uint32_t below(std::uint32_t count);

 private:
  double tail();

  std::mt19937_64 engine_;
};

/// A value that wanders about 0 with a standard deviation and a memory
/// (Ornstein-Uhlenbeck), stepped by any dt.
class Wander {
 public:
  Wander(double sd, double memory_s) : sd_(sd), memory_s_(memory_s) {}

  double step(Random& random, double dt);
  [[nodiscard]] double value() const { return value_; }

 private:
  double sd_;
  double memory_s_;
  double value_ = 0.0;
  double dt_ = -1.0;  // the step the two factors below belong to
  double keep_ = 0.0;
  double kick_ = 0.0;
};

}  // namespace telltale::host::sim
