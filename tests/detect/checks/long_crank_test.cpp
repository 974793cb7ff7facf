// long-crank: one crank; attention > 10 s, urgent > 30 s (contract section 6).
#include "telltale/detect/checks/long_crank.hpp"

#include "catch.hpp"
#include "judge.hpp"

namespace telltale::test {
namespace {

constexpr const char* kSlug = "long-crank";

MadeRun cranked(double s, double interval = 0.5) {
  MadeRun run;
  run.every(interval).rest(120.0).crank(s).run_up(3.0).warm();
  return run.stop();
}

TEST_CASE("long-crank: beyond 10 s and beyond 30 s") {
  CHECK(!judge(cranked(9.5)).found(kSlug));
  CHECK(!judge(cranked(10.0)).found(kSlug));
  const Outcome out = judge(cranked(12.0));
  CHECK(out.findings() == "long-crank attention");
  const Told& told = *out.last(kSlug);
  CHECK(told.finding.unit == Unit::s);
  CHECK(told.finding.limit == 10.0);
  CHECK(told.finding.value == Approx(12.0).margin(0.6));
  CHECK(told.since == Approx(120.0).margin(0.6));
  CHECK(judge(cranked(29.0)).severity(kSlug) == Severity::attention);
  CHECK(judge(cranked(32.0)).severity(kSlug) == Severity::urgent);
}

TEST_CASE("long-crank: told while it goes on") {
  CHECK(judge(cranked(20.0)).first(kSlug)->at == Approx(130.5).margin(0.6));
}

TEST_CASE("long-crank: a failed crank counts as well, two do not add up") {
  MadeRun failed;
  failed.rest(120.0).crank(14.0).rest(60.0);
  CHECK(judge(failed).severity(kSlug) == Severity::attention);
  MadeRun two;
  two.rest(120.0).crank(8.0).rest(20.0).crank(8.0).rest(60.0);
  CHECK(!judge(two).found(kSlug));
}

TEST_CASE("long-crank: not observable slowly, nor without the start") {
  const Outcome slow = judge(cranked(25.0, 5.0));
  CHECK(!slow.found(kSlug));
  CHECK(slow.blind(kSlug) == Blind::interval_too_long);
  MadeRun begins;
  begins.load(50.0, 300.0).stop();
  CHECK(judge(begins).blind(kSlug) == Blind::start_not_seen);
}

// Contract section 4: cranking ends at 40 % of nominal speed on the way up.
TEST_CASE("long-crank: a slow run-up is no crank") {
  MadeRun run;
  run.rest(120.0).crank(3.0).run_up(25.0).warm().stop();
  CHECK(!judge(run).found(kSlug));
}

// The starter drives for 8 s; an engine that runs down after it is not being
// cranked.
TEST_CASE("long-crank: the run-down after a failed crank is none") {
  MadeRun run;
  run.every(0.5).rest(120.0).crank(15.0).rest(60.0).start().warm().stop();
  run.turn([](const Scene& s, double x) {
    if (s.stage != Stage::crank || s.t > 136.0) return x;
    return s.t < 128.0 ? x : x * (0.5 - 0.25 * (s.t - 128.0) / 8.0);
  });
  CHECK(!judge(run).found(kSlug));
}

TEST_CASE("long-crank: a profile changes the limits") {
  CHECK(!judge(cranked(12.0),
               with_limit(Plate{}.profile(), kSlug, {.attention = 15.0F}))
             .found(kSlug));
}

}  // namespace
}  // namespace telltale::test
