#include "simulate/random.hpp"

#include <array>
#include <cmath>

#include "catch.hpp"

namespace telltale::host::sim {
namespace {

// The engine's own check value: [rand.predef] of the C++ standard gives the
// 10000th number of a default-seeded mt19937_64.
TEST_CASE("the engine is the one of the C++ standard") {
  std::mt19937_64 engine;
  engine.discard(9999);
  CHECK(engine() == 9981545732273789042ULL);
}

TEST_CASE("streams of one seed differ by purpose and repeat by seed") {
  Random a(7, "load");
  Random b(7, "load");
  Random c(7, "sensor");
  Random d(8, "load");
  const double first = a.uniform();
  CHECK(b.uniform() == first);
  CHECK(c.uniform() != first);
  CHECK(d.uniform() != first);
}

// Tail probabilities of the normal distribution from the C library's erfc;
// the tolerance is five standard errors of a share of a million draws.
TEST_CASE("normal draws have the moments and tails of the distribution") {
  Random random(11, "test");
  constexpr int kDraws = 1000000;
  double sum = 0.0;
  double squares = 0.0;
  std::array<int, 4> beyond = {};
  for (int i = 0; i < kDraws; ++i) {
    const double x = random.normal();
    sum += x;
    squares += x * x;
    for (std::size_t k = 0; k < beyond.size(); ++k) {
      if (std::abs(x) > static_cast<double>(k + 1)) ++beyond[k];
    }
  }
  CHECK(sum / kDraws == Approx(0.0).margin(5e-3));
  CHECK(squares / kDraws == Approx(1.0).margin(7.1e-3));
  for (std::size_t k = 0; k < beyond.size(); ++k) {
    const double p = std::erfc(static_cast<double>(k + 1) / std::sqrt(2.0));
    CHECK(static_cast<double>(beyond[k]) / kDraws ==
          Approx(p).margin(5.0 * std::sqrt(p / kDraws)));
  }
}

TEST_CASE("other distributions have their means and bounds") {
  Random random(12, "test");
  double waiting = 0.0;
  double log_mean = 0.0;
  int heads = 0;
  for (int i = 0; i < 100000; ++i) {
    waiting += random.waiting(4.0);
    const double x = random.between_log(0.01, 100.0);
    REQUIRE(x >= 0.01);
    REQUIRE(x < 100.0);
    log_mean += std::log10(x);
    heads += random.chance(0.3) ? 1 : 0;
    REQUIRE(random.below(6) < 6);
  }
  CHECK(waiting / 1e5 == Approx(4.0).epsilon(0.02));
  CHECK(log_mean / 1e5 == Approx(0.0).margin(0.02));
  CHECK(heads / 1e5 == Approx(0.3).margin(0.01));
}

// An Ornstein-Uhlenbeck process has the same spread whatever its step, and a
// correlation of 1/e after its memory.
TEST_CASE("a wandering value keeps its spread at any step") {
  for (double dt : {0.02, 1.0, 30.0}) {
    Random random(13, "test");
    Wander wander(2.0, 10.0);
    double squares = 0.0;
    constexpr int kSteps = 400000;
    for (int i = 0; i < kSteps; ++i) {
      const double x = wander.step(random, dt);
      squares += x * x;
    }
    CHECK(std::sqrt(squares / kSteps) ==
          Approx(2.0).epsilon(dt < 0.1 ? 0.15 : 0.03));
  }
}

}  // namespace
}  // namespace telltale::host::sim
