#include "simulate/load.hpp"

#include <cmath>

#include "catch.hpp"

namespace telltale::host::sim {
namespace {

const Rating kSplit{.power_kw = 8, .voltage_v = 240, .legs = 2};

TEST_CASE("steady levels are shared by the legs as told") {
  LoadPlan plan;
  plan.levels = {{10.0, 50.0}, {20.0, 80.0, {3.0, 1.0, 0.0}}};
  LoadBank bank(plan, kSplit, 1);
  CHECK(bank.at(5.0).settled_kw == 0.0);
  CHECK(bank.next_change() == 10.0);
  CHECK(bank.at(10.0).kw[0] == Approx(2.0));
  CHECK(bank.at(10.0).kw[1] == Approx(2.0));
  const Demand& uneven = bank.at(25.0);
  CHECK(uneven.kw[0] == Approx(4.8));
  CHECK(uneven.kw[1] == Approx(1.6));
  CHECK(uneven.settled_kw == Approx(6.4));
  CHECK(std::isinf(bank.next_change()));
}

// P = S cos phi: at power factor 0.8, 3 kW go with 2.25 kvar.
TEST_CASE("appliances take reactive power by their power factor") {
  LoadPlan plan;
  plan.appliances = {{"pump", 3.0, 0.8, Feed::l2, 0.0}};
  LoadBank bank(plan, kSplit, 1);
  const Demand& demand = bank.at(0.0);
  CHECK(demand.kw[0] == 0.0);
  CHECK(demand.kw[1] == Approx(3.0));
  CHECK(demand.kvar[1] == Approx(2.25));
}

// Direct-on-line motors draw 4 to 7 times their rated current for some tenths
// of a second (common practice).
TEST_CASE("a motor's inrush is a current, mostly reactive, and passes") {
  LoadPlan plan;
  plan.appliances = {
      {"motor", 1.0, 0.85, Feed::all, 5.0, 0.0, 0.0, 0.2, 6.0, 0.5}};
  LoadBank bank(plan, kSplit, 1);
  const Demand starting = bank.at(5.0);
  const double kva = std::hypot(starting.kw[0], starting.kvar[0]) * 2.0;
  CHECK(kva == Approx(6.0 * 1.0 / 0.85));
  CHECK(starting.kvar[0] > starting.kw[0]);
  CHECK(starting.settled_kw == Approx(1.0));
  CHECK(bank.next_change() == Approx(5.5));
  CHECK(bank.at(5.6).kw[0] == Approx(0.5));
}

TEST_CASE("a cycling appliance is on for its share of the time") {
  LoadPlan plan;
  plan.appliances = {{"cooler", 1.0, 1.0, Feed::all, 0.0, 300.0, 600.0, 0.3}};
  LoadBank bank(plan, kSplit, 4);
  double on = 0.0;
  constexpr int kSeconds = 900000;
  for (int t = 0; t < kSeconds; ++t) {
    on += bank.at(static_cast<double>(t)).settled_kw;
  }
  CHECK(on / kSeconds == Approx(1.0 / 3.0).margin(0.01));
}

TEST_CASE("an appliance goes off for good when told, or never comes on") {
  LoadPlan plan;
  plan.appliances = {{"a", 1.0, 1.0, Feed::all, 0.0}};
  plan.appliances.front().until_s = 50.0;
  plan.appliances.push_back({"b", 2.0, 1.0, Feed::all, 60.0});
  plan.appliances.back().until_s = 55.0;
  LoadBank bank(plan, kSplit, 4);
  CHECK(bank.at(49.0).settled_kw == 1.0);
  CHECK(bank.at(50.0).settled_kw == 0.0);
  CHECK(bank.at(5000.0).settled_kw == 0.0);
}

TEST_CASE("a leg that the set has not got falls to the last one") {
  LoadPlan plan;
  plan.appliances = {{"a", 1.0, 1.0, Feed::l3, 0.0}};
  LoadBank bank(plan, kSplit, 4);
  CHECK(bank.at(0.0).kw[1] == 1.0);
  CHECK(bank.at(0.0).kw[2] == 0.0);
}

}  // namespace
}  // namespace telltale::host::sim
