// exhaust-jump: a fast rise that start and load do not explain; wet, urgent >
// 10 degC in 60 s; within 5 min of a start or a change of over 10 % of rating
// only > 25 degC in 60 s (contract section 6).
#include "telltale/detect/checks/exhaust_jump.hpp"

#include "catch.hpp"
#include "judge.hpp"

namespace telltale::test {
namespace {

constexpr const char* kSlug = "exhaust-jump";

/// Rises by `kelvin` within `over` seconds from `from` on.
MadeRun jumping(double kelvin, double over, double from = 1500.0) {
  MadeRun run = usual_run(30.0);
  run.fault(Channel::exhaust_temperature, creeping(from, over, kelvin));
  return run;
}

TEST_CASE("exhaust-jump: more than 10 degC in a minute") {
  CHECK(!judge(jumping(9.0, 40.0)).found(kSlug));
  const Outcome out = judge(jumping(13.0, 40.0));
  CHECK(out.severity(kSlug) == Severity::urgent);
  const Told& told = *out.first(kSlug);
  CHECK(told.finding.channel == Channel::exhaust_temperature);
  CHECK(told.finding.unit == Unit::K);
  CHECK(told.finding.limit == 10.0);
  CHECK(told.finding.value > 10.0);
  // The lowest mean of the minute before.
  CHECK(told.since >= 1440.0);
  CHECK(told.since <= 1510.0);
  CHECK(told.at < 1560.0);
  CHECK(out.last(kSlug)->finding.value == Approx(13.0).margin(1.0));
}

TEST_CASE("exhaust-jump: the same rise over three minutes is slower") {
  CHECK(!judge(jumping(20.0, 180.0)).found(kSlug));
  CHECK(judge(jumping(20.0, 60.0)).found(kSlug));
}

TEST_CASE("exhaust-jump: after a start and a load step only 25 degC count") {
  // 456 s is the load step, 123 s the start of the run-up.
  CHECK(!judge(jumping(18.0, 40.0, 560.0)).found(kSlug));
  CHECK(judge(jumping(32.0, 40.0, 560.0)).severity(kSlug) == Severity::urgent);
  CHECK(!judge(jumping(18.0, 40.0, 200.0)).found(kSlug));
  CHECK(judge(jumping(38.0, 40.0, 200.0)).severity(kSlug) == Severity::urgent);
  // Six minutes after the step it counts again.
  CHECK(judge(jumping(13.0, 40.0, 830.0)).found(kSlug));
}

TEST_CASE("exhaust-jump: a healthy step of the load is none") {
  MadeRun run;
  run.rest(60.0).start().warm();
  for (int i = 0; i < 5; ++i) run.load(10.0, 400.0).load(100.0, 400.0);
  run.stop().fault(Channel::exhaust_temperature,
                   [](const Scene&, double x) { return x * 1.3; });
  CHECK(!judge(run).found(kSlug));
}

TEST_CASE("exhaust-jump: two readings are no jump") {
  MadeRun run = usual_run(30.0);
  run.fault(Channel::exhaust_temperature, during(1500.0, 2.0, by(12.0)));
  CHECK(!judge(run).found(kSlug));
}

TEST_CASE("exhaust-jump: a dry sensor is not judged") {
  MadeRun run = jumping(60.0, 40.0);
  run.fault(Channel::exhaust_temperature,
            [](const Scene& s, double x) { return s.ran > 0 ? x + 300 : x; });
  Profile profile = run.plate().profile();
  profile.rating.exhaust = Exhaust::dry;
  const Outcome out = judge(run, profile);
  CHECK(!out.found(kSlug));
  CHECK(out.blind(kSlug) == Blind::not_this_kind);
}

TEST_CASE("exhaust-jump: seen at 5 s and 10 s, too") {
  for (const double interval : {5.0, 10.0}) {
    CHECK(judge(jumping(25.0, 60.0).every(interval)).severity(kSlug) ==
          Severity::urgent);
  }
}

TEST_CASE("exhaust-jump: a gap is no minute") {
  // 14 degC higher after a gap of five minutes: nobody knows how fast.
  MadeRun run = jumping(14.0, 240.0);
  run.gap(1490.0, 1760.0);
  CHECK(!judge(run).found(kSlug));
}

TEST_CASE("exhaust-jump: a profile changes the limit") {
  CHECK(!judge(jumping(13.0, 40.0),
               with_limit(Plate{}.profile(), kSlug, {.urgent = 15.0F}))
             .found(kSlug));
}

}  // namespace
}  // namespace telltale::test
