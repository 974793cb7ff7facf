// alarm-standing: an alarm that stands for more than 24 h; attention (contract
// section 6).
#include "telltale/detect/checks/alarm_standing.hpp"

#include "catch.hpp"
#include "judge.hpp"

namespace telltale::test {
namespace {

constexpr const char* kSlug = "alarm-standing";

/// A log of 30 h at one row a minute, the set running all the while.
MadeRun standing(double from, double hours) {
  MadeRun run;
  run.every(60.0).load(50.0, 30.0 * 3600.0);
  return run.alarm(5, from, from + hours * 3600.0);
}

TEST_CASE("alarm-standing: more than 24 h") {
  CHECK(!judge(standing(600.0, 23.9)).found(kSlug));
  CHECK(!judge(standing(600.0, 24.0)).found(kSlug));
  const Outcome out = judge(standing(600.0, 24.2));
  CHECK(out.severity(kSlug) == Severity::attention);
  const Told& told = *out.first(kSlug);
  CHECK(told.finding.unit == Unit::h);
  CHECK(told.finding.limit == 24.0);
  CHECK(told.finding.value > 24.0);
  CHECK(told.finding.detail[0] == 5.0);
  CHECK(told.since == 600.0);
}

TEST_CASE("alarm-standing: from the log's beginning on") {
  CHECK(judge(standing(0.0, 25.0)).found(kSlug));
}

TEST_CASE("alarm-standing: a break begins anew") {
  MadeRun run = standing(600.0, 15.0);
  run.alarm(5, 600.0 + 15.1 * 3600.0, 1e9);
  CHECK(!judge(run).found(kSlug));
}

TEST_CASE("alarm-standing: two alarms one after the other are none") {
  MadeRun run = standing(600.0, 14.0);
  run.alarm(6, 600.0 + 13.0 * 3600.0, 1e9);
  CHECK(!judge(run).found(kSlug));
}

TEST_CASE("alarm-standing: over several runs and the rest between them") {
  MadeRun run;
  run.every(60.0).rest(3600.0);
  for (int i = 0; i < 3; ++i) {
    run.crank(60.0).run_up(60.0).load(40.0, 3600.0).coast(60.0);
    run.rest(8.0 * 3600.0);
  }
  run.alarm(5, 3000.0, 1e9);
  CHECK(judge(run).found(kSlug));
}

TEST_CASE("alarm-standing: a profile changes the limit") {
  CHECK(judge(standing(600.0, 3.0),
              with_limit(Plate{}.profile(), kSlug, {.attention = 2.0F}))
            .found(kSlug));
}

}  // namespace
}  // namespace telltale::test
