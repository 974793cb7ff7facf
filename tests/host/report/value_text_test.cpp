// Figures, units and times as people read them. Conversions: NIST SP 811.
#include "report/value_text.hpp"

#include <cmath>

#include "catch.hpp"

namespace telltale::host {
namespace {

LogLayout layout_in(LogUnit pressure, LogUnit temperature) {
  LogLayout layout;
  layout.zone_known = true;
  layout.columns.push_back(
      {"oil", "oil_pressure", Channel::oil_pressure, pressure, "named so"});
  layout.columns.push_back({"coolant", "coolant_temperature",
                            Channel::coolant_temperature, temperature,
                            "named so"});
  return layout;
}

TEST_CASE("value text: a log in psi is answered in psi") {
  const LogLayout layout = layout_in(LogUnit::psi, LogUnit::degF);
  const ValueText text(UnitSystem::as_logged, layout);
  // 40 psi = 275.79 kPa; 200 degF = 93.33 degC.
  CHECK(text.say(275.79, Unit::kPa, Channel::oil_pressure) == "40.0 psi");
  CHECK(text.say(93.3333, Unit::degC, Channel::coolant_temperature) ==
        "200.0 °F");
  CHECK(text.shown(275.79029, Channel::oil_pressure) == Approx(40.0));
  // A channel the log lacks follows the others of its kind.
  CHECK(text.say(100.0, Unit::degC, Channel::none) == "212.0 °F");
  // A difference has no offset: 10 K are 18 degrees Fahrenheit.
  CHECK(text.say(10.0, Unit::K) == "18.0 °F");
  CHECK(text.say(0.5, Unit::K_per_min) == "0.90 °F a minute");
}

TEST_CASE("value text: metric and us whatever the log has") {
  const LogLayout layout = layout_in(LogUnit::psi, LogUnit::degF);
  const ValueText metric(UnitSystem::metric, layout);
  CHECK(metric.say(275.79, Unit::kPa, Channel::oil_pressure) == "276 kPa");
  CHECK(metric.say(93.3333, Unit::degC, Channel::coolant_temperature) ==
        "93.3 °C");
  const LogLayout logged = layout_in(LogUnit::bar, LogUnit::degC);
  const ValueText us(UnitSystem::us, logged);
  CHECK(us.say(275.79, Unit::kPa, Channel::oil_pressure) == "40.0 psi");
  CHECK(us.say(3.785411784, Unit::L_h, Channel::fuel_rate) == "1.0 gal/h");
  const ValueText bar(UnitSystem::as_logged, logged);
  CHECK(bar.say(250.0, Unit::kPa, Channel::oil_pressure) == "2.50 bar");
}

TEST_CASE("value text: what is unknown says so") {
  const LogLayout layout;
  const ValueText text(UnitSystem::metric, layout);
  CHECK(text.say(std::nan(""), Unit::V) == "unknown");
  CHECK(text.say(INFINITY, Unit::Hz) == "unknown");
  CHECK(duration_text(std::nan("")) == "unknown");
}

TEST_CASE("value text: durations") {
  CHECK(duration_text(0.0) == "0 s");
  CHECK(duration_text(0.4) == "0.4 s");
  CHECK(duration_text(45.0) == "45 s");
  CHECK(duration_text(99.0) == "99 s");
  CHECK(duration_text(125.0) == "2 min 05 s");
  CHECK(duration_text(300.0) == "5 min");
  CHECK(duration_text(4800.0) == "1 h 20 min");
  CHECK(duration_text(3599.6) == "1 h");
  CHECK(duration_text(7200.0) == "2 h");
  CHECK(duration_text(86400.0 * 4) == "4.0 days");
}

TEST_CASE("value text: thousands in groups, no minus zero") {
  CHECK(grouped(3600.0, 0) == "3600");
  CHECK(grouped(12345.67, 1) == "12,345.7");
  CHECK(grouped(-1234567.0, 0) == "-1,234,567");
  CHECK(grouped(-0.04, 1) == "0.0");
  CHECK(grouped(999999.99, 0) == "1,000,000");
}

TEST_CASE("value text: stamps and the time of day") {
  LogLayout layout;
  layout.zone_known = true;
  const ValueText text(UnitSystem::metric, layout);
  const TimeMs at{1'780'300'800'000};  // 2026-06-01T08:00:00Z
  CHECK(text.stamp(at) == "2026-06-01 08:00:00Z");
  CHECK(text.clock(at) == "08:00:00");
  layout.elapsed = true;
  const ValueText elapsed(UnitSystem::metric, layout);
  CHECK(elapsed.stamp(TimeMs{123'000}).rfind("t+123", 0) == 0);
}

}  // namespace
}  // namespace telltale::host
