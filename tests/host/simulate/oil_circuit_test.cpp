#include "simulate/oil_circuit.hpp"

#include <cmath>

#include "catch.hpp"
#include "simulate/presets.hpp"
#include "simulate/random.hpp"

namespace telltale::host::sim {
namespace {

constexpr double kPsi = 6.894757;

// Viscosity tables computed by ASTM D341 from the same two anchor values: a
// different equation, so that agreement within a few per cent over the working
// range is what can be asked; at 0 degC the two part by up to a third.
TEST_CASE("viscosity agrees with an ASTM D341 table where engines run") {
  struct Row {
    double at_40, at_100;
    double at_0, at_20, at_60, at_80, at_120;
  };
  for (const Row& row : {Row{105, 14, 1284, 308, 45.7, 23.7, 9.09},
                         Row{95, 11, 1606, 315, 38.5, 19.1, 7.04},
                         Row{70, 10.8, 712, 190, 32.4, 17.6, 7.22}}) {
    const Viscosity oil(row.at_40, row.at_100);
    CHECK(oil.at(40.0) == Approx(row.at_40).epsilon(1e-9));
    CHECK(oil.at(100.0) == Approx(row.at_100).epsilon(1e-9));
    CHECK(oil.at(60.0) == Approx(row.at_60).epsilon(0.03));
    CHECK(oil.at(80.0) == Approx(row.at_80).epsilon(0.03));
    CHECK(oil.at(120.0) == Approx(row.at_120).epsilon(0.04));
    CHECK(oil.at(20.0) == Approx(row.at_20).epsilon(0.08));
    CHECK(oil.at(0.0) == Approx(row.at_0).epsilon(0.35));
  }
}

// Trade facts: about 40 psi hot at 3600 rpm, 30 to 70 psi on running sets, up
// to 70 or 80 psi cold, held there by the relief valve.
TEST_CASE("pressure is about 40 psi hot and falls as the oil heats") {
  const SetSpec set = preset_scenario("split-8")->set;
  const OilCircuit oil(set.oil);
  CHECK(oil.steady(1.0, 95.0) / kPsi == Approx(40.0).margin(2.0));
  double before = 1e9;
  for (double c = 10.0; c <= 115.0; c += 5.0) {
    const double psi = oil.steady(1.0, c) / kPsi;
    CHECK(psi < before);
    CHECK(psi > 25.0);
    CHECK(psi < 80.0);
    before = psi;
  }
  // On the relief valve a warmer oil hardly changes it.
  CHECK(oil.steady(1.0, 20.0) - oil.steady(1.0, 40.0) < 0.1 * set.oil.hot_kpa);
}

TEST_CASE("pressure rises with speed and is nothing at rest") {
  const SetSpec set = preset_scenario("single-12")->set;
  const OilCircuit oil(set.oil);
  CHECK(oil.steady(0.0, 90.0) == 0.0);
  CHECK(oil.steady(0.5, 90.0) < oil.steady(0.8, 90.0));
  CHECK(oil.steady(0.8, 90.0) < oil.steady(1.0, 90.0));
}

TEST_CASE("wear costs the pressure it is asked to cost") {
  const SetSpec set = preset_scenario("split-8")->set;
  OilCircuit oil(set.oil);
  for (double loss : {0.1, 0.25, 0.5}) {
    CHECK(oil.steady(1.0, 95.0, 1.0, oil.clearance_for(loss)) ==
          Approx((1.0 - loss) * oil.steady(1.0, 95.0)).epsilon(1e-9));
    Ailments worn;
    worn.pressure_loss = loss;
    CHECK(oil.hot_pressure(worn) ==
          Approx((1.0 - loss) * set.oil.hot_kpa).epsilon(1e-9));
  }
  Ailments low;
  low.pump_loss = 0.65;
  CHECK(oil.hot_pressure(low) < 0.4 * set.oil.hot_kpa);
}

TEST_CASE("pressure comes when the gallery is full, later if it had drained") {
  const SetSpec set = preset_scenario("split-8")->set;
  const auto seconds_to_pressure = [&set](double fill_s) {
    OilCircuit oil(set.oil);
    Ailments ailments;
    ailments.fill_s = fill_s;
    double t = 0.0;
    while (oil.pressure() < 100.0 && t < 60.0) {
      oil.step(0.2, 1.0, 20.0, 0.0, ailments);
      t += 0.2;
    }
    return t;
  };
  CHECK(seconds_to_pressure(0.0) < 3.0);
  CHECK(seconds_to_pressure(18.0) == Approx(18.0).margin(1.0));
}

TEST_CASE("air in the pick-up makes it flutter by its share of the mean") {
  const SetSpec set = preset_scenario("split-8")->set;
  OilCircuit oil(set.oil);
  Random random(3, "test");
  Wander wander(1.0, 1.3);
  Ailments ailments;
  ailments.flutter = 0.10;
  double sum = 0.0;
  double squares = 0.0;
  int count = 0;
  for (int i = 0; i < 50000; ++i) {
    oil.step(0.2, 1.0, 90.0, wander.step(random, 0.2), ailments);
    if (i < 100) continue;
    sum += oil.pressure();
    squares += oil.pressure() * oil.pressure();
    ++count;
  }
  const double mean = sum / count;
  const double sd = std::sqrt(squares / count - mean * mean);
  // The sender's lag takes a little of it away.
  CHECK(sd / mean > 0.07);
  CHECK(sd / mean < 0.105);
}

}  // namespace
}  // namespace telltale::host::sim
