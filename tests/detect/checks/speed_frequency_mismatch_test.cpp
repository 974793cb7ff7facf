// speed-frequency-mismatch: f against n p / 120, attention 1 % beyond the slip
// to be expected: 0 synchronous, up to 6 % asynchronous, inferred where the gap
// grows with load and vanishes without (contract section 6; n = 120 f / p).
#include "telltale/detect/checks/speed_frequency_mismatch.hpp"

#include "catch.hpp"
#include "judge.hpp"

namespace telltale::test {
namespace {

constexpr const char* kSlug = "speed-frequency-mismatch";

/// The speed column reads `pct` too much (or too little) from 600 s on.
MadeRun off_by(double pct, double s = 600.0) {
  MadeRun run = usual_run(20.0);
  run.fault(Channel::engine_speed, during(600.0, s, times(1.0 + pct / 100.0)));
  return run;
}
/// An asynchronous set: frequency falls short of n p / 120 by `slip` at full
/// load, in proportion.
MadeRun slipping(double slip) {
  MadeRun run;
  run.rest(60.0).start().load(0.0, 120.0).load(30.0, 300.0).load(80.0, 600.0);
  run.load(50.0, 300.0).stop();
  run.fault(Channel::frequency, [=](const Scene& s, double x) {
    return x * (1.0 - slip / 100.0 * s.load_pct / 100.0);
  });
  return run;
}

TEST_CASE("speed-frequency-mismatch: beyond 1 % either way") {
  CHECK(judge(off_by(0.95)).findings() == "");
  CHECK(judge(off_by(-0.95)).findings() == "");
  for (const double pct : {1.2, -1.2}) {
    const Outcome out = judge(off_by(pct));
    CHECK(out.findings() == "speed-frequency-mismatch attention");
    const Told& told = *out.first(kSlug);
    CHECK(told.finding.channel == Channel::engine_speed);
    CHECK(told.finding.unit == Unit::pct);
    CHECK(told.finding.limit == 1.0);
    CHECK(told.finding.value == Approx(1.2).margin(0.05));
    CHECK(told.since == 600.0);
  }
}

TEST_CASE("speed-frequency-mismatch: a moment is none") {
  CHECK(judge(off_by(3.0, 50.0)).findings() == "");
  CHECK(judge(off_by(3.0, 70.0)).found(kSlug));
}

TEST_CASE("speed-frequency-mismatch: two poles at 3600, four at 1800") {
  // Trade facts, common practice: 3600 rpm is 60 Hz with two poles, 3000 is 50
  // Hz; with four poles 1800 and 1500.
  for (const Plate& plate :
       {Plate{}, Plate{50.0, 2}, Plate{60.0, 4}, Plate{50.0, 4}}) {
    const Outcome out = judge(usual_run(10.0, plate));
    CHECK(out.judged(kSlug) > 0);
    CHECK(out.findings() == "");
  }
  MadeRun run = usual_run(10.0);
  Profile wrong = run.plate().profile();
  wrong.rating.poles = 4;
  CHECK(judge(run, wrong).found(kSlug));
}

TEST_CASE("speed-frequency-mismatch: slip is an asynchronous set's nature") {
  MadeRun run = slipping(5.0);
  Profile profile = run.plate().profile();
  profile.rating.generator = Generator::asynchronous;
  CHECK(!judge(run, profile).found(kSlug));
  // Not told, but the gap vanishes without load and grows with it.
  CHECK(!judge(slipping(5.0)).found(kSlug));
}

TEST_CASE("speed-frequency-mismatch: more slip than 7 % is no nature") {
  MadeRun run = slipping(11.0);
  Profile profile = run.plate().profile();
  profile.rating.generator = Generator::asynchronous;
  CHECK(judge(run, profile).found(kSlug));
}

TEST_CASE("speed-frequency-mismatch: no slip the other way round") {
  // A generator never turns slower than its field: frequency above n p / 120.
  MadeRun run = usual_run(20.0);
  Profile profile = run.plate().profile();
  profile.rating.generator = Generator::asynchronous;
  run.fault(Channel::engine_speed, since(600.0, times(0.97)));
  CHECK(judge(run, profile).found(kSlug));
}

TEST_CASE(
    "speed-frequency-mismatch: a gap that stays without load is no "
    "slip") {
  MadeRun run = slipping(0.0);
  run.fault(Channel::engine_speed,
            [](const Scene&, double x) { return x * 1.03; });
  CHECK(judge(run).found(kSlug));
}

TEST_CASE("speed-frequency-mismatch: a coarse speed column is no mismatch") {
  MadeRun run = usual_run(30.0);
  run.resolution(Channel::engine_speed, 50.0);
  CHECK(judge(run).findings() == "");
}

TEST_CASE("speed-frequency-mismatch: blind without poles") {
  Profile profile = Plate{}.profile();
  profile.rating.poles = 0;
  const Outcome out = judge(off_by(3.0), profile);
  CHECK(!out.found(kSlug));
  CHECK(out.blind(kSlug) == Blind::no_nominal);
}

TEST_CASE("speed-frequency-mismatch: a profile changes the limit") {
  CHECK(judge(off_by(1.2),
              with_limit(Plate{}.profile(), kSlug, {.attention = 1.5F}))
            .findings() == "");
}

}  // namespace
}  // namespace telltale::test
