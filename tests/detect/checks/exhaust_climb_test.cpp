// exhaust-climb: a slow rise at comparable load, start and load changes left
// out; attention > 0.3 degC/min over 10 min, wet (contract section 6).
#include "telltale/detect/checks/exhaust_climb.hpp"

#include "catch.hpp"
#include "judge.hpp"

namespace telltale::test {
namespace {

constexpr const char* kSlug = "exhaust-climb";

MadeRun climbing(double rate, double s = 1500.0) {
  MadeRun run = usual_run(80.0);
  run.fault(Channel::exhaust_temperature, creeping(3000.0, s, rate * s / 60.0));
  return run;
}

TEST_CASE("exhaust-climb: beyond 0.3 degC a minute") {
  CHECK(judge(climbing(0.27)).findings() == "");
  const Outcome out = judge(climbing(0.36));
  CHECK(out.findings() == "exhaust-climb attention");
  const Told& told = *out.last(kSlug);
  CHECK(told.finding.channel == Channel::exhaust_temperature);
  CHECK(told.finding.unit == Unit::K_per_min);
  CHECK(told.finding.limit == Approx(0.3));
  CHECK(told.finding.value == Approx(0.36).margin(0.02));
  CHECK(out.first(kSlug)->since == Approx(3000.0).margin(200.0));
}

TEST_CASE("exhaust-climb: 1.8 degC in ten minutes are not 3") {
  CHECK(judge(climbing(0.36, 300.0)).findings() == "");
}

// A load that moves by less than 10 % of rating lifts the exhaust by a degree
// or two, once: that is 0.2 degC a minute over 10 min and no climb.
TEST_CASE("exhaust-climb: a small lasting step is no climb") {
  CHECK(judge(climbing(0.5, 300.0)).findings() == "");
  CHECK(judge(climbing(2.4, 60.0)).findings() == "");
}

TEST_CASE("exhaust-climb: start and load explain a rise") {
  MadeRun slow_to_warm = usual_run(30.0);
  slow_to_warm.fault(Channel::exhaust_temperature,
                     creeping(130.0, 700.0, 12.0));
  CHECK(!judge(slow_to_warm).found(kSlug));
  MadeRun steps;
  steps.rest(60.0).start().warm().load(20.0, 1500.0);
  for (int i = 0; i < 4; ++i) steps.load(60.0, 600.0).load(30.0, 600.0);
  steps.stop().fault(Channel::exhaust_temperature,
                     creeping(1900.0, 4800.0, 32.0));
  CHECK(!judge(steps).found(kSlug));
}

TEST_CASE("exhaust-climb: warmer sea water explains it where it is logged") {
  MadeRun run = climbing(0.5);
  run.fault(Channel::raw_water_temperature, creeping(3000.0, 1500.0, 12.5));
  CHECK(!judge(run).found(kSlug));
  run.without(Channel::raw_water_temperature);
  CHECK(judge(run).found(kSlug));
}

TEST_CASE("exhaust-climb: a dry sensor is not judged") {
  MadeRun run = climbing(2.0);
  run.fault(Channel::exhaust_temperature,
            [](const Scene& s, double x) { return s.ran > 0 ? x + 300 : x; });
  Profile profile = run.plate().profile();
  profile.rating.exhaust = Exhaust::dry;
  const Outcome out = judge(run, profile);
  CHECK(!out.found(kSlug));
  CHECK(out.blind(kSlug) == Blind::not_this_kind);
}

TEST_CASE("exhaust-climb: blind where nothing tells the load") {
  MadeRun run = climbing(0.5);
  run.without(Channel::power)
      .without(Channel::current_l1)
      .without(Channel::current_l2);
  const Outcome out = judge(run);
  CHECK(!out.found(kSlug));
  CHECK(out.blind(kSlug) == Blind::no_load_reading);
}

TEST_CASE("exhaust-climb: seen at 30 s as well, and in whole degrees") {
  CHECK(judge(climbing(0.45).every(30.0)).found(kSlug));
  CHECK(judge(climbing(0.45).resolution(Channel::exhaust_temperature, 1.0))
            .found(kSlug));
}

TEST_CASE("exhaust-climb: a profile changes the limit") {
  CHECK(judge(climbing(0.36),
              with_limit(Plate{}.profile(), kSlug, {.attention = 0.5F}))
            .findings() == "");
}

}  // namespace
}  // namespace telltale::test
