// frequency-high: attention above +5 % for 30 s, urgent above +8 % for 10 s;
// under 10 % load wider by the class droop, 6 % for an asynchronous set
// (contract section 6; IACS UR E5 permanent band, ISO 8528-5 droop).
#include "telltale/detect/checks/frequency_high.hpp"

#include "catch.hpp"
#include "judge.hpp"

namespace telltale::test {
namespace {

constexpr const char* kSlug = "frequency-high";

/// The set turning at `hz` for `s` seconds while loaded.
MadeRun fast_for(double s, double hz, const Plate& plate = {}) {
  MadeRun run = usual_run(20.0, plate);
  run.turn(during(600.0, s, to(hz / plate.hz)));
  return run;
}

// The contract asks for 'above'. 60 * 1.05 in single precision is 62.999996,
// so a log that stands at exactly 63.00 Hz is reported as 'above 63.00 Hz'.
TEST_CASE("frequency-high: the limit itself is no finding") {
  CHECK(judge(fast_for(600.0, 63.0)).findings() == "");
  CHECK(judge(fast_for(120.0, 52.5, kEuropean)).findings() == "");
}

TEST_CASE("frequency-high: a hair beyond the limit is a finding") {
  CHECK(judge(fast_for(600.0, 62.99)).findings() == "");
  const Outcome out = judge(fast_for(600.0, 63.01));
  CHECK(out.findings() == "frequency-high attention");
  const Told& told = *out.first(kSlug);
  CHECK(told.finding.channel == Channel::frequency);
  CHECK(told.finding.unit == Unit::Hz);
  CHECK(told.finding.value == Approx(63.01));
  CHECK(told.finding.limit == Approx(63.0));
  CHECK(told.since == 600.0);
  CHECK(told.at == Approx(630.0).margin(1.0));
}

TEST_CASE("frequency-high: urgent above +8 % for 10 s") {
  CHECK(judge(fast_for(120.0, 64.8)).findings() == "frequency-high attention");
  const Outcome out = judge(fast_for(120.0, 64.9));
  CHECK(out.findings() == "frequency-high urgent");
  const Told& told = *out.first(kSlug, Severity::urgent);
  CHECK(told.finding.limit == Approx(64.8));
  CHECK(told.since == 600.0);
  CHECK(told.at == Approx(610.0).margin(1.0));
  // Long enough for urgent, too short for attention.
  CHECK(judge(fast_for(15.0, 64.9)).severity(kSlug) == Severity::urgent);
}

TEST_CASE("frequency-high: just before and just after the delay") {
  CHECK(judge(fast_for(29.0, 63.5)).findings() == "");
  CHECK(judge(fast_for(32.0, 63.5)).severity(kSlug) == Severity::attention);
  CHECK(judge(fast_for(9.0, 66.0)).findings() == "");
  CHECK(judge(fast_for(12.0, 66.0)).severity(kSlug) == Severity::urgent);
}

TEST_CASE("frequency-high: the finding closes when frequency is back") {
  const Outcome out = judge(fast_for(60.0, 63.5));
  const Told& told = *out.last(kSlug);
  CHECK(told.finding.event == FindingEvent::closed);
  CHECK(told.until == Approx(659.0));
  CHECK(told.at < 720.0);
}

TEST_CASE("frequency-high: under 10 % load the class droop is added") {
  const auto unloaded = [](double hz, PerformanceClass performance,
                           Generator generator = Generator::synchronous) {
    MadeRun run;
    run.rest(60.0).start().load(0.0, 300.0).load(50.0, 300.0).stop();
    run.turn(during(100.0, 200.0, to(hz / 60.0)));
    Profile profile = run.plate().profile();
    profile.rating.performance = performance;
    profile.rating.generator = generator;
    return judge(run, profile).severity(kSlug);
  };
  // 60 Hz: G1 13 %, G2 10 %, G3 8 %; asynchronous 11 %.
  CHECK(unloaded(67.7, PerformanceClass::G1) == Severity::not_judged);
  CHECK(unloaded(67.9, PerformanceClass::G1) == Severity::attention);
  CHECK(unloaded(65.9, PerformanceClass::G2) == Severity::not_judged);
  CHECK(unloaded(66.1, PerformanceClass::G2) == Severity::attention);
  CHECK(unloaded(64.7, PerformanceClass::G3) == Severity::not_judged);
  CHECK(unloaded(64.9, PerformanceClass::G3) == Severity::attention);
  CHECK(unloaded(66.5, PerformanceClass::G2, Generator::asynchronous) ==
        Severity::not_judged);
  CHECK(unloaded(66.7, PerformanceClass::G2, Generator::asynchronous) ==
        Severity::attention);
  // Urgent widens along: 60 * 1.13.
  CHECK(unloaded(67.7, PerformanceClass::G2) == Severity::attention);
  CHECK(unloaded(67.9, PerformanceClass::G2) == Severity::urgent);
}

TEST_CASE("frequency-high: at 9 % load wide, at 11 % narrow") {
  for (const double load : {9.0, 11.0}) {
    MadeRun run;
    run.rest(60.0).start().load(load, 600.0).stop();
    run.turn(during(200.0, 300.0, to(64.0 / 60.0)));
    CHECK(judge(run).found(kSlug) == (load > 10.0));
  }
}

TEST_CASE("frequency-high: 50 Hz has its own limits") {
  CHECK(judge(fast_for(120.0, 52.4, kEuropean)).findings() == "");
  const Outcome out = judge(fast_for(120.0, 52.6, kEuropean));
  CHECK(out.findings() == "frequency-high attention");
  CHECK(out.first(kSlug)->finding.limit == Approx(52.5));
}

TEST_CASE("frequency-high: 10 s after a load step are not judged") {
  // Fast from the very step on for 38 s: 28 s of it count.
  CHECK(judge([] {
          MadeRun run = usual_run(20.0);
          run.turn(during(kLoaded, 38.0, to(63.5 / 60.0)));
          return run;
        }())
            .findings() == "");
  MadeRun longer = usual_run(20.0);
  longer.turn(during(kLoaded, 45.0, to(63.5 / 60.0)));
  CHECK(judge(longer).severity(kSlug) == Severity::attention);
}

TEST_CASE("frequency-high: a gap restarts what is pending") {
  MadeRun run = usual_run(20.0);
  run.turn(during(600.0, 20.0, to(63.5 / 60.0)))
      .gap(619.0, 800.0)
      .turn(during(800.0, 20.0, to(63.5 / 60.0)));
  CHECK(judge(run).findings() == "data-gap note");
}

TEST_CASE("frequency-high: a gap does not clear what stands") {
  MadeRun run = usual_run(20.0);
  run.turn(during(600.0, 400.0, to(63.5 / 60.0))).gap(650.0, 900.0);
  const Outcome out = judge(run);
  CHECK(out.findings() == "data-gap note, frequency-high attention");
  CHECK(out.last(kSlug)->since == 600.0);
  CHECK(out.last(kSlug)->until == Approx(999.0));
}

TEST_CASE("frequency-high: a reading back inside now and then is forgiven") {
  MadeRun run = fast_for(60.0, 63.5);
  run.turn(during(615.0, 1.0, to(1.0)));
  CHECK(judge(run).severity(kSlug) == Severity::attention);
}

TEST_CASE("frequency-high: a profile changes one limit and leaves the other") {
  Profile profile = with_limit(Plate{}.profile(), kSlug, {.attention = 3.0F});
  CHECK(judge(fast_for(120.0, 62.0), profile).severity(kSlug) ==
        Severity::attention);
  CHECK(judge(fast_for(120.0, 64.9), profile).severity(kSlug) ==
        Severity::urgent);
  profile = with_limit(Plate{}.profile(), kSlug, {.delay_s = 60.0F});
  CHECK(judge(fast_for(45.0, 63.5), profile).findings() == "");
}

TEST_CASE("frequency-high: blind where no nominal frequency is known") {
  Profile profile = Plate{}.profile();
  profile.rating.frequency_hz = kUnknown;
  profile.rating.poles = 0;
  const Outcome out = judge(fast_for(120.0, 66.0), profile);
  CHECK(!out.found(kSlug));
  CHECK(out.blind(kSlug) == Blind::no_nominal);
}

TEST_CASE("frequency-high: three readings at least, also at 10 s") {
  // Two readings 20 s apart and a third back inside.
  MadeRun two = usual_run(20.0).every(20.0);
  two.turn(during(600.0, 40.0, to(63.5 / 60.0)));
  CHECK(judge(two).findings() == "");
  MadeRun three = usual_run(20.0).every(20.0);
  three.turn(during(600.0, 60.0, to(63.5 / 60.0)));
  CHECK(judge(three).severity(kSlug) == Severity::attention);
}

}  // namespace
}  // namespace telltale::test
