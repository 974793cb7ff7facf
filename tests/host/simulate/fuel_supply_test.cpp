#include "simulate/fuel_supply.hpp"

#include <algorithm>

#include "catch.hpp"

namespace telltale::host::sim {
namespace {

TEST_CASE("a sound supply never limits the torque") {
  FuelSupply supply(1);
  for (int i = 0; i < 10000; ++i) {
    CHECK(supply.step(0.02, 0.0, 0.5, 1.0) > 2.0);
  }
  CHECK(supply.sags() == 0);
}

TEST_CASE("a starved one sags several times in five minutes, to its depth") {
  FuelSupply supply(2);
  double speed = 1.0;
  double lowest = 1.0;
  for (double t = 0.0; t < 300.0; t += 0.02) {
    const double limit = supply.step(0.02, 9.0, 0.6, 1.0);
    // The governor gives what it may, up to a torque that restores the speed.
    const double torque = std::min(limit, 0.6 + 10.0 * (1.0 - speed));
    speed += (torque - 0.6) / 2.0 * 0.02;
    lowest = std::min(lowest, speed);
  }
  CHECK(supply.sags() >= 3);
  CHECK(supply.sags() <= 20);
  CHECK(lowest < 0.93);
  CHECK(lowest > 0.84);
}

TEST_CASE("a supply that recovers stops sagging at once") {
  FuelSupply supply(2);
  while (!supply.sagging()) supply.step(0.02, 9.0, 0.6, 1.0);
  supply.step(0.02, 0.0, 0.6, 1.0);
  CHECK_FALSE(supply.sagging());
}

}  // namespace
}  // namespace telltale::host::sim
