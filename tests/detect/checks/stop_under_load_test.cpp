// stop-under-load: load still on at a controlled stop; attention > 10 % of
// rating in the last 5 s at nominal speed (contract section 6).
#include "telltale/detect/checks/stop_under_load.hpp"

#include "catch.hpp"
#include "judge.hpp"

namespace telltale::test {
namespace {

constexpr const char* kSlug = "stop-under-load";

MadeRun stopped_at(double pct, double coast_s = 8.0) {
  MadeRun run;
  run.rest(60.0).start().warm().load(40.0, 3600.0).load(pct, 60.0);
  return run.coast(coast_s).rest(60.0);
}

TEST_CASE("stop-under-load: a smooth coast with the load on") {
  const Outcome out = judge(stopped_at(30.0));
  CHECK(out.severity(kSlug) == Severity::attention);
  CHECK(!out.found("abrupt-stop"));
  const Told& told = *out.first(kSlug);
  CHECK(told.finding.unit == Unit::pct);
  CHECK(told.finding.limit == 10.0);
  CHECK(told.finding.value == Approx(30.0).margin(0.5));
  CHECK(told.until == Approx(4056.0).margin(3.0));
}

// A set that is still warming up has not left its own band: that is what
// temperatures do after a start. A short trip ends in a controlled stop, too.
TEST_CASE("stop-under-load: warming up is no channel out of its band") {
  MadeRun run;
  run.rest(60.0).start().warm().load(40.0, 600.0).coast(8.0).rest(60.0);
  const Outcome out = judge(run);
  CHECK(out.severity(kSlug) == Severity::attention);
  CHECK(!out.found("abrupt-stop"));
}

TEST_CASE("stop-under-load: the state column announces the stop") {
  MadeRun run = stopped_at(30.0, 2.0);
  run.with_state();
  const Outcome out = judge(run);
  CHECK(out.severity(kSlug) == Severity::attention);
  CHECK(!out.found("abrupt-stop"));
}

TEST_CASE("stop-under-load: 10 % is the limit") {
  CHECK(!judge(stopped_at(9.5)).found(kSlug));
  CHECK(!judge(stopped_at(10.0)).found(kSlug));
  CHECK(judge(stopped_at(10.5)).found(kSlug));
}

TEST_CASE("stop-under-load: unloaded just before is as it should be") {
  MadeRun run;
  run.rest(60.0).start().warm().load(40.0, 3600.0).load(0.0, 10.0);
  CHECK(!judge(run.coast(8.0).rest(60.0)).found(kSlug));
}

TEST_CASE("stop-under-load: an alarm before makes it no controlled stop") {
  MadeRun run = stopped_at(30.0);
  run.alarm(2, 4050.0, 4200.0);
  const Outcome out = judge(run);
  CHECK(!out.found(kSlug));
  CHECK(out.severity("abrupt-stop") == Severity::urgent);
}

TEST_CASE("stop-under-load: not seen where the log ends or a gap hides it") {
  MadeRun ends;
  ends.rest(60.0).start().warm().load(40.0, 600.0);
  const Outcome out = judge(ends);
  CHECK(out.findings() == "");
  CHECK(out.blind(kSlug) == Blind::stop_not_seen);
  MadeRun hidden = stopped_at(30.0);
  hidden.gap(4050.0, 4080.0);
  CHECK(!judge(hidden).found(kSlug));
}

TEST_CASE("stop-under-load: blind where nothing tells the load") {
  MadeRun run = stopped_at(30.0);
  run.without(Channel::power)
      .without(Channel::current_l1)
      .without(Channel::current_l2);
  const Outcome out = judge(run);
  CHECK(!out.found(kSlug));
  CHECK(out.blind(kSlug) == Blind::no_load_reading);
}

TEST_CASE("stop-under-load: a profile changes the limit") {
  CHECK(!judge(stopped_at(15.0),
               with_limit(Plate{}.profile(), kSlug, {.attention = 20.0F}))
             .found(kSlug));
}

TEST_CASE("stop-under-load: seen at 5 s and 10 s as well") {
  for (const double interval : {5.0, 10.0}) {
    MadeRun run;
    run.every(interval).rest(60.0).crank(10.0).run_up(10.0);
    run.load(10.0, 300.0).load(40.0, 3600.0).coast(40.0).rest(60.0);
    const Outcome out = judge(run);
    CHECK(out.severity(kSlug) == Severity::attention);
    CHECK(!out.found("abrupt-stop"));
  }
}

}  // namespace
}  // namespace telltale::test
