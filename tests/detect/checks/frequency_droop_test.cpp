// frequency-droop: slope of frequency against load, extrapolated to full load
// when the run covers 40 % of rating or more; attention above the class, G1 8,
// G2 5, G3 3 % (contract section 6; ISO 8528-5).
#include "telltale/detect/checks/frequency_droop.hpp"

#include "catch.hpp"
#include "judge.hpp"

namespace telltale::test {
namespace {

constexpr const char* kSlug = "frequency-droop";

MadeRun stepped(double droop, const Plate& plate = {}) {
  MadeRun run(plate);
  run.droop(droop).rest(60.0).start();
  for (const double load : {0.0, 30.0, 60.0, 90.0, 50.0, 20.0}) {
    run.load(load, 150.0);
  }
  return run.stop();
}
Severity judged(double droop, PerformanceClass performance) {
  MadeRun run = stepped(droop);
  Profile profile = run.plate().profile();
  profile.rating.performance = performance;
  return judge(run, profile).severity(kSlug);
}

TEST_CASE("frequency-droop: each class has its limit") {
  CHECK(judged(7.8, PerformanceClass::G1) == Severity::not_judged);
  CHECK(judged(8.3, PerformanceClass::G1) == Severity::attention);
  CHECK(judged(4.9, PerformanceClass::G2) == Severity::not_judged);
  CHECK(judged(5.2, PerformanceClass::G2) == Severity::attention);
  CHECK(judged(2.9, PerformanceClass::G3) == Severity::not_judged);
  CHECK(judged(3.2, PerformanceClass::G3) == Severity::attention);
}

TEST_CASE("frequency-droop: the figure is that from no load to full load") {
  for (const Plate& plate : {Plate{}, kEuropean}) {
    const Outcome out = judge(stepped(6.0, plate));
    REQUIRE(out.found(kSlug));
    const Finding<double>& finding = out.last(kSlug)->finding;
    CHECK(finding.channel == Channel::frequency);
    CHECK(finding.unit == Unit::pct);
    CHECK(finding.value == Approx(6.0).margin(0.05));
    CHECK(finding.limit == 5.0);
    CHECK(finding.detail[0] == Approx(plate.hz * 1.06).margin(0.05));
    CHECK(finding.detail[1] == Approx(plate.hz).margin(0.05));
  }
}

// Sampled every 10 s a block is a single reading. Two that overshoot by 0.4 Hz
// make 5.6 % of 4.5.
TEST_CASE("frequency-droop: a load counts by its mean, not its first blocks") {
  MadeRun run;
  run.every(10.0).droop(4.5).rest(60.0).start();
  for (int i = 0; i < 6; ++i) run.load(20.0, 150.0).load(80.0, 150.0);
  run.stop();
  run.fault(Channel::frequency, [](const Scene& s, double x) {
    const bool early = s.load_for >= 8.0 && s.load_for < 28.0;
    return early ? x + (s.load_pct > 50.0 ? -0.4 : 0.4) : x;
  });
  CHECK(!judge(run).found(kSlug));
}

TEST_CASE("frequency-droop: 39 % of the range is not enough, 41 % is") {
  for (const double top : {58.0, 62.0}) {
    MadeRun run;
    run.droop(7.0).rest(60.0).start();
    for (int i = 0; i < 4; ++i) run.load(20.0, 120.0).load(top, 120.0);
    run.load(20.0, 10.0).coast().rest(30.0);
    CHECK(judge(run).found(kSlug) == (top > 60.0));
  }
}

// The reason that is told must be the one that kept it from judging, not what
// the last block before the stop happened to lack.
TEST_CASE("frequency-droop: says that the load range was too small") {
  MadeRun run;
  run.rest(60.0).start().load(20.0, 600.0).load(40.0, 600.0).load(20.0, 10.0);
  run.coast().rest(30.0);
  CHECK(judge(run).blind(kSlug) == Blind::load_too_uniform);
}

TEST_CASE("frequency-droop: a governor moved at constant load is no droop") {
  MadeRun run;
  run.droop(2.0).rest(60.0).start().load(10.0, 300.0).load(60.0, 600.0);
  run.load(10.0, 300.0).load(60.0, 1200.0).stop();
  run.turn(creeping(1400.0, 600.0, -0.05));
  CHECK(!judge(run).found(kSlug));
}

TEST_CASE("frequency-droop: blind without a rating") {
  MadeRun run = stepped(9.0);
  Profile profile = run.plate().profile();
  profile.rating.power_kw = kUnknown;
  profile.load_scale_kw = 7.2F;
  const Outcome out = judge(run, profile);
  CHECK(!out.found(kSlug));
  CHECK(out.blind(kSlug) == Blind::no_rating);
  // A load column needs no rating.
  run.with(Channel::load);
  CHECK(judge(run, profile).found(kSlug));
}

TEST_CASE("frequency-droop: a profile changes the limit") {
  CHECK(!judge(stepped(6.0),
               with_limit(Plate{}.profile(), kSlug, {.attention = 7.0F}))
             .found(kSlug));
}

TEST_CASE("frequency-droop: coarse frequency neither makes nor hides it") {
  CHECK(!judge(stepped(4.5).resolution(Channel::frequency, 0.5)).found(kSlug));
  MadeRun lively = stepped(7.0);
  lively.noise(Channel::frequency, 0.15, 3).resolution(Channel::frequency, 0.1);
  CHECK(judge(lively).found(kSlug));
}

// A quiet governor in a column of 0.1 Hz never shows a step of 0.1 Hz: the
// load's own steps of a hertz and more are then taken for the resolution.
TEST_CASE("frequency-droop: a quiet column in tenths hides nothing") {
  CHECK(judge(stepped(7.0).resolution(Channel::frequency, 0.1)).found(kSlug));
}

}  // namespace
}  // namespace telltale::test
