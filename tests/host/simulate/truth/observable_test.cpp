#include "simulate/truth/observable.hpp"

#include "catch.hpp"
#include "simulate/presets.hpp"

namespace telltale::host::sim {
namespace {

Verdict of(std::string_view check, Channel channel = Channel::none) {
  Verdict verdict;
  verdict.check = check;
  verdict.channel = channel;
  verdict.to = 60.0;
  return verdict;
}

TEST_CASE("a check needs its channels") {
  Scenario scenario = *preset_scenario("split-8");
  CHECK(not_observable(of("winding-high"), scenario).empty());
  scenario.sensors = {scenario.sensors.front()};  // engine speed alone
  CHECK(not_observable(of("winding-high"), scenario) ==
        "no such channel: winding_temperature");
  CHECK(not_observable(of("overload"), scenario) == "no channel that shows it");
  CHECK(not_observable(of("long-crank"), scenario).empty());
  CHECK(not_observable(of("voltage-high", Channel::voltage_l2), scenario) ==
        "no such channel: voltage_l2");
}

// Contract section 6: a crank dip is not observable over 1 s; recovery from a
// load step at a fifth of the class's recovery time (G2 5 s, G3 3 s).
TEST_CASE("a check needs readings close enough together") {
  Scenario scenario = *preset_scenario("split-8", 1, 4200.0, 2.0);
  CHECK_FALSE(not_observable(of("crank-dip"), scenario).empty());
  CHECK_FALSE(not_observable(of("load-step-response"), scenario).empty());
  CHECK(not_observable(of("coolant-high"), scenario).empty());
  scenario.interval_s = 1.0;
  CHECK(not_observable(of("crank-dip"), scenario).empty());
  CHECK(not_observable(of("load-step-response"), scenario).empty());
  scenario.set.rating.performance_class = 3;
  CHECK_FALSE(not_observable(of("load-step-response"), scenario).empty());
}

// Contract section 6: oil pressure is low after 3 s and two readings.
TEST_CASE("what is over before its delay is not observable") {
  const Scenario scenario = *preset_scenario("split-8");  // a row a second
  Verdict verdict = of("oil-pressure-low");
  verdict.due = 3.0;
  verdict.to = 6.0;
  CHECK(not_observable(verdict, scenario).empty());
  verdict.to = 4.0;  // the protection tripped
  CHECK_FALSE(not_observable(verdict, scenario).empty());
}

TEST_CASE("alarms need the alarm column") {
  Scenario scenario = *preset_scenario("split-8");
  CHECK(not_observable(of("alarm-flood"), scenario).empty());
  scenario.alarm_column = false;
  CHECK_FALSE(not_observable(of("alarm-flood"), scenario).empty());
}

}  // namespace
}  // namespace telltale::host::sim
