// frequency-low: attention below -5 % for 30 s, urgent below -10 % for 10 s
// (contract section 6; IACS UR E5).
#include "telltale/detect/checks/frequency_low.hpp"

#include <algorithm>

#include "catch.hpp"
#include "judge.hpp"

namespace telltale::test {
namespace {

constexpr const char* kSlug = "frequency-low";

/// Slides down slowly enough to be no sag of starving fuel, stays, comes back.
MadeRun slow_for(double s, double hz, const Plate& plate = {}) {
  MadeRun run = usual_run(30.0, plate);
  const double low = hz / plate.hz;
  run.turn([=](const Scene& scene, double healthy) {
    const double down = std::min(1.0, std::max(0.0, (scene.t - 600.0) / 200.0));
    const double up =
        std::min(1.0, std::max(0.0, (scene.t - 800.0 - s) / 200.0));
    return healthy + (low - healthy) * (down - up);
  });
  return run;
}

TEST_CASE("frequency-low: the limit itself is no finding, a hair less is") {
  CHECK(!judge(slow_for(300.0, 57.0)).found(kSlug));
  const Outcome out = judge(slow_for(300.0, 56.99));
  CHECK(out.severity(kSlug) == Severity::attention);
  const Told& told = *out.first(kSlug);
  CHECK(told.finding.channel == Channel::frequency);
  CHECK(told.finding.value == Approx(56.99));
  CHECK(told.finding.limit == Approx(57.0));
  CHECK(told.since == Approx(800.0).margin(2.0));
}

TEST_CASE("frequency-low: urgent below -10 % for 10 s") {
  CHECK(judge(slow_for(120.0, 54.0)).severity(kSlug) == Severity::attention);
  const Outcome out = judge(slow_for(120.0, 53.9));
  CHECK(out.severity(kSlug) == Severity::urgent);
  CHECK(out.first(kSlug, Severity::urgent)->since == Approx(800.0).margin(4.0));
  CHECK(out.last(kSlug)->finding.value == Approx(53.9));
}

TEST_CASE("frequency-low: just before and just after the delay") {
  // Only frequency falls, at once: speed stays where it is.
  for (const double s : {29.0, 32.0}) {
    MadeRun run = usual_run(20.0);
    run.fault(Channel::frequency, during(600.0, s, to(56.5)));
    CHECK(judge(run).found(kSlug) == (s > 30.0));
  }
}

TEST_CASE("frequency-low: 50 Hz has its own limit") {
  CHECK(!judge(slow_for(300.0, 47.5, kEuropean)).found(kSlug));
  const Outcome out = judge(slow_for(300.0, 47.45, kEuropean));
  CHECK(out.severity(kSlug) == Severity::attention);
  CHECK(out.first(kSlug)->finding.limit == Approx(47.5));
}

TEST_CASE("frequency-low: no-load changes nothing on this side") {
  MadeRun run;
  run.rest(60.0).start().load(0.0, 600.0).stop();
  run.fault(Channel::frequency, during(200.0, 60.0, to(56.5)));
  CHECK(judge(run).severity(kSlug) == Severity::attention);
}

TEST_CASE("frequency-low: run-up and stopping are no steady state") {
  // A run-up that takes a minute, a coast of a minute: low all the while.
  MadeRun run;
  run.rest(60.0).crank(3.0).run_up(60.0).load(0.0, 20.0).load(50.0, 600.0);
  run.load(0.0, 180.0).coast(60.0).rest(30.0);
  CHECK(judge(run).findings() == "");
}

TEST_CASE("frequency-low: a profile changes a limit") {
  const Profile profile =
      with_limit(Plate{}.profile(), kSlug, {.attention = -3.0F});
  CHECK(judge(slow_for(300.0, 58.0), profile).severity(kSlug) ==
        Severity::attention);
}

TEST_CASE("frequency-low: a gap restarts what is pending") {
  MadeRun run = usual_run(10.0);
  run.fault(Channel::frequency, during(600.0, 20.0, to(56.0)))
      .gap(619.0, 800.0)
      .fault(Channel::frequency, during(800.0, 20.0, to(56.0)));
  CHECK(!judge(run).found(kSlug));
}

}  // namespace
}  // namespace telltale::test
