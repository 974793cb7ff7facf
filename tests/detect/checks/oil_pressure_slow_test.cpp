// oil-pressure-slow: from 40 % of nominal speed to the first of 3 s above 100
// kPa; attention > 10 s (contract section 6).
#include "telltale/detect/checks/oil_pressure_slow.hpp"

#include "catch.hpp"
#include "judge.hpp"

namespace telltale::test {
namespace {

constexpr const char* kSlug = "oil-pressure-slow";

/// The run-up begins at 63 s, already above 40 %; pressure comes `s` later.
MadeRun slow(double s, double interval = 1.0) {
  MadeRun run;
  run.every(interval).rest(60.0).start().load(0.0, 120.0).stop();
  run.fault(Channel::oil_pressure, during(60.0, 3.0 + s, to(20.0)));
  return run;
}

TEST_CASE("oil-pressure-slow: 10 s are in order, more are not") {
  CHECK(!judge(slow(8.0)).found(kSlug));
  CHECK(!judge(slow(10.0)).found(kSlug));
  const Outcome out = judge(slow(14.0));
  CHECK(out.severity(kSlug) == Severity::attention);
  const Told& told = *out.last(kSlug);
  CHECK(told.finding.channel == Channel::oil_pressure);
  CHECK(told.finding.unit == Unit::s);
  CHECK(told.finding.limit == 10.0);
  CHECK(told.finding.value == Approx(14.0).margin(1.0));
  CHECK(told.since == Approx(63.0).margin(1.0));
}

TEST_CASE("oil-pressure-slow: finely sampled, to the tenth") {
  CHECK(!judge(slow(9.8, 0.1)).found(kSlug));
  CHECK(judge(slow(10.4, 0.1)).found(kSlug));
}

TEST_CASE("oil-pressure-slow: a flicker above 100 kPa does not count") {
  MadeRun run = slow(20.0);
  run.fault(Channel::oil_pressure, during(68.0, 2.0, to(150.0)));
  const Outcome out = judge(run);
  CHECK(out.severity(kSlug) == Severity::attention);
  CHECK(out.last(kSlug)->finding.value == Approx(20.0).margin(1.0));
}

TEST_CASE("oil-pressure-slow: 100 kPa itself is not above") {
  MadeRun run = slow(1.0);
  run.fault(Channel::oil_pressure, during(63.0, 15.0, to(100.0)));
  CHECK(judge(run).found(kSlug));
}

TEST_CASE("oil-pressure-slow: not observable slowly, nor without the start") {
  MadeRun coarse = slow(20.0, 5.0);
  const Outcome out = judge(coarse);
  CHECK(!out.found(kSlug));
  CHECK(out.blind(kSlug) == Blind::interval_too_long);
  MadeRun begins;
  begins.load(0.0, 120.0).stop();
  CHECK(judge(begins).blind(kSlug) == Blind::start_not_seen);
}

TEST_CASE("oil-pressure-slow: only the good attempt counts") {
  // 30 s of failed cranking before it are not the pump's doing.
  MadeRun run;
  run.rest(60.0).crank(5.0).rest(10.0).crank(5.0).rest(10.0).start();
  CHECK(!judge(run.load(0.0, 120.0).stop()).found(kSlug));
}

TEST_CASE("oil-pressure-slow: a profile changes the limit") {
  CHECK(!judge(slow(14.0),
               with_limit(Plate{}.profile(), kSlug, {.attention = 15.0F}))
             .found(kSlug));
}

}  // namespace
}  // namespace telltale::test
