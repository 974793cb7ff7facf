#include "simulate/truth/watch.hpp"

#include <cmath>
#include <vector>

#include "catch.hpp"
#include "simulate/truth/view.hpp"

namespace telltale::host::sim {
namespace {

std::vector<Verdict> answer_of(const Watch& watch) {
  std::vector<Verdict> out;
  watch.answer(out);
  return out;
}

Watch coolant() {
  return {"coolant-high",
          Channel::coolant_temperature,
          "degC",
          Side::above,
          {{Degree::attention, 95.0, 10.0}, {Degree::urgent, 105.0, 10.0}}};
}

TEST_CASE("a limit must be passed for its delay, and not at the limit") {
  Watch watch = coolant();
  for (int t = 1; t <= 9; ++t) watch.see(t, 1.0, true, 96.0);
  CHECK(answer_of(watch).empty());
  watch.see(10.0, 1.0, true, 94.0);
  for (int t = 11; t <= 40; ++t) watch.see(t, 1.0, true, 95.0);
  CHECK(answer_of(watch).empty());
  for (int t = 41; t <= 50; ++t) watch.see(t, 1.0, true, 95.1);
  const auto found = answer_of(watch);
  REQUIRE(found.size() == 1);
  CHECK(found[0].degree == Degree::attention);
  CHECK(found[0].from == 40.0);
  CHECK(found[0].due == 50.0);
}

TEST_CASE("the highest degree wins and begins where it began") {
  Watch watch = coolant();
  for (int t = 1; t <= 30; ++t) watch.see(t, 1.0, true, 98.0);
  for (int t = 31; t <= 50; ++t) watch.see(t, 1.0, true, 110.0 - (t == 40));
  for (int t = 51; t <= 90; ++t) watch.see(t, 1.0, true, 98.0);
  const auto found = answer_of(watch);
  REQUIRE(found.size() == 1);
  CHECK(found[0].degree == Degree::urgent);
  CHECK(found[0].from == 30.0);
  CHECK(found[0].to == 50.0);
  CHECK(found[0].value == 110.0);
  CHECK(found[0].limit == 105.0);
}

TEST_CASE("a closed gate starts the delay anew; a shift moves the limit") {
  Watch watch = coolant();
  for (int t = 1; t <= 60; ++t) watch.see(t, 1.0, t % 8 != 0, 99.0);
  CHECK(answer_of(watch).empty());
  for (int t = 61; t <= 90; ++t) watch.see(t, 1.0, true, 99.0, 5.0);
  CHECK(answer_of(watch).empty());
}

TEST_CASE("below works like above, upside down") {
  Watch watch{"charging-low",
              Channel::battery_voltage,
              "V",
              Side::below,
              {{Degree::attention, 13.0, 3.0}, {Degree::urgent, 12.4, 3.0}}};
  for (int t = 1; t <= 9; ++t) watch.see(t, 1.0, true, 12.9 - 0.05 * t);
  const auto found = answer_of(watch);
  REQUIRE(found.size() == 1);
  CHECK(found[0].degree == Degree::attention);
  CHECK(found[0].value == Approx(12.45));
}

TEST_CASE("a rolling mean is nothing before its span is filled") {
  RollingMean mean(60.0);
  for (int t = 1; t < 60; ++t) mean.add(t, 1.0, 100.0);
  CHECK(std::isnan(mean.mean()));
  mean.add(60.0, 1.0, 100.0);
  CHECK(mean.mean() == Approx(100.0));
  for (int i = 0; i < 300; ++i) mean.add(60.0 + 0.1 * i, 0.1, 40.0);
  CHECK(mean.mean() == Approx(70.0).margin(1.0));  // half the span is new
}

}  // namespace
}  // namespace telltale::host::sim
