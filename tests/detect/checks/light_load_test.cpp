// light-load: share of running time (no-load included) below 30 % of rating;
// note > 50 % of a run over 1 h, attention > 80 % of a run over 3 h (contract
// section 6; NFPA 110 8.4.2 asks for 30 %).
#include "telltale/detect/checks/light_load.hpp"

#include "catch.hpp"
#include "judge.hpp"

namespace telltale::test {
namespace {

constexpr const char* kSlug = "light-load";

/// `light` seconds at that load, `heavy` at 60 %, no cool-down.
MadeRun mixed(double light, double heavy, double pct = 20.0) {
  MadeRun run;
  run.every(10.0).rest(60.0).crank(10.0).run_up(10.0).load(pct, light);
  if (heavy > 0.0) run.load(60.0, heavy);
  return run.load(8.0, 30.0).coast(20.0).rest(60.0);
}
Severity severity(double light, double heavy, double pct = 20.0) {
  return judge(mixed(light, heavy, pct)).severity(kSlug);
}

TEST_CASE("light-load: a note above half of a run over 1 h") {
  CHECK(severity(2400.0, 2600.0) == Severity::not_judged);
  CHECK(severity(2600.0, 2400.0) == Severity::note);
  CHECK(severity(2600.0, 600.0) == Severity::not_judged);  // under an hour
}

TEST_CASE("light-load: attention above 80 % of a run over 3 h") {
  CHECK(severity(9000.0, 2400.0) == Severity::note);
  CHECK(severity(9600.0, 2200.0) == Severity::attention);
  CHECK(severity(9600.0, 600.0) == Severity::note);  // under 3 h
}

TEST_CASE("light-load: 30 % is no light load, no load is") {
  CHECK(severity(7200.0, 0.0, 30.0) == Severity::not_judged);
  CHECK(severity(7200.0, 0.0, 29.0) == Severity::note);
  CHECK(severity(7200.0, 0.0, 0.0) == Severity::note);
}

TEST_CASE("light-load: what is told") {
  const Outcome out = judge(mixed(9600.0, 2200.0));
  const Told& told = *out.last(kSlug);
  CHECK(told.finding.channel == Channel::power);
  CHECK(told.finding.unit == Unit::pct);
  CHECK(told.finding.limit == 80.0);
  CHECK(told.finding.value == Approx(100.0 * 9630.0 / 11830.0).margin(0.5));
  CHECK(told.finding.detail[0] == Approx(11830.0 / 3600.0).margin(0.02));
  CHECK(told.finding.detail[1] == Approx(9630.0 / 3600.0).margin(0.02));
}

TEST_CASE("light-load: blind without a rating and in short runs") {
  MadeRun run = mixed(7200.0, 0.0);
  Profile profile = run.plate().profile();
  profile.rating.power_kw = kUnknown;
  profile.load_scale_kw = 1.6F;
  const Outcome out = judge(run, profile);
  CHECK(!out.found(kSlug));
  CHECK(out.blind(kSlug) == Blind::no_rating);
  CHECK(judge(mixed(1800.0, 0.0)).blind(kSlug) == Blind::too_short);
}

TEST_CASE("light-load: a gap is no running time") {
  // 40 min light, a gap of 9 min, 30 min heavy: under an hour and a quarter.
  MadeRun run;
  run.rest(60.0).start().load(20.0, 2000.0).load(60.0, 540.0);
  run.load(60.0, 1500.0).load(60.0, 30.0).coast().rest(30.0);
  run.gap(2070.0, 2600.0);
  CHECK(judge(run).severity(kSlug) == Severity::not_judged);
}

TEST_CASE("light-load: a profile changes the limits") {
  CHECK(!judge(mixed(2600.0, 2400.0),
               with_limit(Plate{}.profile(), kSlug, {.note = 60.0F}))
             .found(kSlug));
}

}  // namespace
}  // namespace telltale::test
