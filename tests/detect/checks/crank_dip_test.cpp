// crank-dip: lowest volts while cranking, a neighbouring reading or a second
// crank agreeing; intervals over 1 s: not observable; attention < 9.6 V, urgent
// < 8.5 V; doubled for 24 V (contract section 6).
#include "telltale/detect/checks/crank_dip.hpp"

#include "catch.hpp"
#include "judge.hpp"

namespace telltale::test {
namespace {

constexpr const char* kSlug = "crank-dip";

/// A crank from 120 s on, as long as it takes, at those volts.
MadeRun cranking(double volts, double interval = 0.5, const Plate& plate = {}) {
  MadeRun run(plate);
  run.every(interval).rest(120.0).start().warm().stop();
  run.fault(Channel::battery_voltage, during(120.0, 3.0, to(volts)));
  return run;
}
Severity severity(double volts, const Plate& plate = {}) {
  return judge(cranking(volts, 0.5, plate)).severity(kSlug);
}

TEST_CASE("crank-dip: 12 V and 24 V limits") {
  CHECK(severity(9.62) == Severity::not_judged);
  CHECK(severity(9.58) == Severity::attention);
  CHECK(severity(8.5) == Severity::attention);
  CHECK(severity(8.48) == Severity::urgent);
  CHECK(severity(19.25, kEuropean) == Severity::not_judged);
  CHECK(severity(19.15, kEuropean) == Severity::attention);
  CHECK(severity(16.9, kEuropean) == Severity::urgent);
}

// 'Below 9.6 V': 9.6 in single precision is 9.6000004, so a log that reads 9.60
// is told to be below 9.60.
TEST_CASE("crank-dip: the limit itself is no finding") {
  CHECK(severity(9.6) == Severity::not_judged);
  CHECK(severity(19.2, kEuropean) == Severity::not_judged);
}

TEST_CASE("crank-dip: what is told") {
  const Outcome out = judge(cranking(9.0));
  CHECK(out.findings() == "crank-dip attention");
  const Told& told = *out.first(kSlug);
  CHECK(told.finding.channel == Channel::battery_voltage);
  CHECK(told.finding.unit == Unit::V);
  CHECK(told.finding.value == 9.0);
  CHECK(told.finding.limit == Approx(9.6));
  CHECK(told.since == Approx(120.0).margin(0.6));
  CHECK(told.finding.detail[0] == Approx(12.7).margin(0.05));
  CHECK(told.finding.detail[1] == Approx(3.0).margin(0.6));
}

TEST_CASE("crank-dip: one low reading among others does not count") {
  MadeRun run = cranking(10.5, 0.5);
  run.single(Channel::battery_voltage, 121.5, 7.0);
  CHECK(!judge(run).found(kSlug));
}

// Common practice: 9.6 V is what a sound battery holds while the starter turns;
// the inrush before is deeper.
TEST_CASE("crank-dip: the inrush is none, where it can be told apart") {
  for (const double interval : {0.1, 0.2}) {
    INFO("a reading every " << interval << " s");
    MadeRun run = cranking(10.2, interval);
    run.fault(Channel::battery_voltage, during(120.0, 0.39, to(8.4)));
    CHECK(!judge(run).found(kSlug));
  }
  MadeRun longer = cranking(10.2, 0.2);
  longer.fault(Channel::battery_voltage, during(120.0, 1.0, to(8.4)));
  CHECK(judge(longer).severity(kSlug) == Severity::urgent);
}

TEST_CASE("crank-dip: a second crank agreeing will do") {
  MadeRun run;
  run.every(1.0).rest(120.0).crank(2.0).rest(20.0).crank(2.0).rest(20.0);
  run.start().warm().stop();
  run.single(Channel::battery_voltage, 120.0, 9.0)
      .single(Channel::battery_voltage, 142.0, 9.2);
  const Outcome out = judge(run);
  CHECK(out.severity(kSlug) == Severity::attention);
  CHECK(out.last(kSlug)->finding.value == Approx(9.2).margin(0.01));
  MadeRun apart;
  apart.every(1.0).rest(120.0).crank(2.0).rest(20.0).crank(2.0).rest(20.0);
  apart.start().warm().stop();
  apart.single(Channel::battery_voltage, 120.0, 8.6)
      .single(Channel::battery_voltage, 142.0, 9.3);
  CHECK(!judge(apart).found(kSlug));
}

TEST_CASE("crank-dip: at 1 s observable, beyond not") {
  CHECK(judge(cranking(9.0, 1.0)).found(kSlug));
  const Outcome out = judge(cranking(9.0, 1.5));
  CHECK(!out.found(kSlug));
  CHECK(out.blind(kSlug) == Blind::interval_too_long);
}

TEST_CASE(
    "crank-dip: a logger that is slow at rest and quick from the crank on") {
  MadeRun run;
  run.every(10.0).rest(400.0).every(1.0).start().warm().stop();
  run.fault(Channel::battery_voltage, during(400.0, 3.0, to(8.2)));
  const Outcome out = judge(run);
  REQUIRE(out.found(kSlug));
  CHECK(out.first(kSlug)->finding.value == Approx(8.2));
}

TEST_CASE("crank-dip: blind where the log begins running") {
  MadeRun run;
  run.load(50.0, 300.0).stop();
  const Outcome out = judge(run);
  CHECK(out.blind(kSlug) == Blind::start_not_seen);
}

TEST_CASE("crank-dip: low volts at rest or running are another matter") {
  MadeRun run = cranking(10.6);
  run.fault(Channel::battery_voltage, during(0.0, 119.0, to(9.0)))
      .fault(Channel::battery_voltage, during(130.0, 30.0, to(9.0)));
  CHECK(!judge(run).found(kSlug));
}

TEST_CASE("crank-dip: a profile changes the limits") {
  CHECK(!judge(cranking(9.0),
               with_limit(Plate{}.profile(), kSlug, {.attention = 8.8F}))
             .found(kSlug));
}

}  // namespace
}  // namespace telltale::test
