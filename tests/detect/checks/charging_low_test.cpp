// charging-low: battery volts once charging should be up; attention < 13.0 V,
// urgent < 12.4 V, from 5 min after start, 60 s median; doubled for 24 V
// (contract section 6).
#include "telltale/detect/checks/charging_low.hpp"

#include "catch.hpp"
#include "judge.hpp"

namespace telltale::test {
namespace {

constexpr const char* kSlug = "charging-low";

MadeRun charging(double volts, double from = 900.0, double s = 300.0,
                 const Plate& plate = {}) {
  MadeRun run = usual_run(30.0, plate);
  run.fault(Channel::battery_voltage, during(from, s, to(volts)));
  return run;
}
Severity severity(double volts, const Plate& plate = {}) {
  return judge(charging(volts, 900.0, 300.0, plate)).severity(kSlug);
}

// Trade fact (common practice): charging is over 13 V.
TEST_CASE("charging-low: 12 V and 24 V limits") {
  CHECK(severity(13.0) == Severity::not_judged);
  CHECK(severity(12.98) == Severity::attention);
  CHECK(severity(12.4) == Severity::attention);
  CHECK(severity(12.38) == Severity::urgent);
  CHECK(severity(26.0, kEuropean) == Severity::not_judged);
  CHECK(severity(25.95, kEuropean) == Severity::attention);
  CHECK(severity(24.75, kEuropean) == Severity::urgent);
}

TEST_CASE("charging-low: what is told") {
  const Outcome out = judge(charging(12.8));
  CHECK(out.findings() == "charging-low attention");
  const Told& told = *out.first(kSlug);
  CHECK(told.finding.channel == Channel::battery_voltage);
  CHECK(told.finding.unit == Unit::V);
  CHECK(told.finding.value == Approx(12.8).margin(0.01));
  CHECK(told.finding.limit == 13.0);
  // A median of 60 s turns half a minute late.
  CHECK(told.since == Approx(930.0).margin(15.0));
  CHECK(out.last(kSlug)->until == Approx(1230.0).margin(15.0));
}

TEST_CASE("charging-low: the first five minutes do not count") {
  // Running since 123 s: up to 423 s nothing is judged.
  CHECK(!judge(charging(12.5, 123.0, 300.0)).found(kSlug));
  CHECK(judge(charging(12.5, 123.0, 400.0)).found(kSlug));
}

TEST_CASE("charging-low: a dip shorter than half the median is none") {
  CHECK(!judge(charging(11.5, 900.0, 25.0)).found(kSlug));
  CHECK(judge(charging(11.5, 900.0, 60.0)).found(kSlug));
}

TEST_CASE("charging-low: never charged at all") {
  const Outcome out = judge(charging(12.3, 123.0, 1e6));
  CHECK(out.severity(kSlug) == Severity::urgent);
  CHECK(out.first(kSlug, Severity::urgent)->at < 490.0);
}

TEST_CASE("charging-low: a log that begins running needs its five minutes") {
  MadeRun run;
  run.load(50.0, 200.0);
  run.fault(Channel::battery_voltage,
            [](const Scene&, double) { return 12.5; });
  CHECK(!judge(run).found(kSlug));
  CHECK(judge(run).blind(kSlug) == Blind::too_short);
}

TEST_CASE("charging-low: seen at 10 s and 60 s") {
  for (const double interval : {10.0, 60.0}) {
    CHECK(judge(charging(12.7, 900.0, 600.0).every(interval)).findings() ==
          "charging-low attention");
  }
}

// 'Sustained' wants three readings: two of a minute each are not enough.
TEST_CASE("charging-low: two readings a minute apart are not sustained") {
  CHECK(!judge(charging(12.7, 900.0, 60.0).every(60.0)).found(kSlug));
}

TEST_CASE("charging-low: a profile changes the limits and when it begins") {
  CHECK(!judge(charging(12.8),
               with_limit(Plate{}.profile(), kSlug, {.attention = 12.6F}))
             .found(kSlug));
  CHECK(!judge(charging(12.5, 900.0, 300.0),
               with_limit(Plate{}.profile(), kSlug, {.delay_s = 1800.0F}))
             .found(kSlug));
}

}  // namespace
}  // namespace telltale::test
