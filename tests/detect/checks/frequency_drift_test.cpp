// frequency-drift: at comparable load frequency moves away from where the run
// began; attention from 1 % of nominal, significant, the run's own droop taken
// out first, over at least 20 min (contract section 6).
#include "telltale/detect/checks/frequency_drift.hpp"

#include "catch.hpp"
#include "judge.hpp"

namespace telltale::test {
namespace {

constexpr const char* kSlug = "frequency-drift";

/// Two hours at 60 %, the governor creeping by `pct` over `s` seconds from
/// `from` on.
MadeRun drifting(double pct, double from, double s, const Plate& plate = {}) {
  MadeRun run(plate);
  run.rest(60.0).start().warm().load(60.0, 7200.0).stop();
  run.turn(creeping(from, s, pct / 100.0));
  return run;
}

TEST_CASE("frequency-drift: a creeping governor is found, up and down") {
  for (const double pct : {1.63, -1.63}) {
    const Outcome out = judge(drifting(pct, 1200.0, 4800.0));
    CHECK(out.findings() == "frequency-drift attention");
    const Told& told = *out.last(kSlug);
    CHECK(told.finding.channel == Channel::frequency);
    CHECK(told.finding.unit == Unit::pct);
    CHECK(told.finding.limit == 1.0);
    CHECK(told.finding.value == Approx(1.63).margin(0.15));
    // Half the limit is passed half way to it: 0.5 % after 1500 s.
    CHECK(out.first(kSlug)->since > 2100.0);
    CHECK(out.first(kSlug)->since < 4800.0);
  }
}

TEST_CASE("frequency-drift: less than the limit is none") {
  CHECK(judge(drifting(0.9, 1200.0, 4800.0)).findings() == "");
  CHECK(judge(drifting(-0.9, 1200.0, 4800.0)).findings() == "");
}

TEST_CASE("frequency-drift: a step that stays counts as well") {
  const Outcome out = judge(drifting(1.5, 3000.0, 30.0));
  CHECK(out.severity(kSlug) == Severity::attention);
}

TEST_CASE("frequency-drift: no verdict in the first 20 min") {
  MadeRun run;
  run.rest(60.0).start().warm().load(60.0, 600.0).stop();
  run.turn(creeping(200.0, 700.0, 0.03));
  const Outcome out = judge(run);
  CHECK(!out.found(kSlug));
  CHECK(out.blind(kSlug) == Blind::too_short);
}

// A governor with 4 % droop moves by 2.4 % from 20 to 80 % load; none of it
// is drift, whichever way and however often the load goes.
TEST_CASE("frequency-drift: the run's own droop is no drift") {
  MadeRun falling;
  falling.droop(4.0)
      .rest(60.0)
      .start()
      .warm()
      .load(80.0, 1800.0)
      .load(50.0, 1200.0);
  falling.load(80.0, 900.0).load(20.0, 2400.0).stop();
  CHECK(judge(falling).findings() == "");
  MadeRun rising;
  rising.droop(4.0)
      .rest(60.0)
      .start()
      .warm()
      .load(20.0, 1800.0)
      .load(50.0, 1200.0);
  rising.load(20.0, 900.0).load(80.0, 2400.0).stop();
  CHECK(judge(rising).findings() == "");
  // One step that never comes back: droop and drift can't be told apart.
  MadeRun once;
  once.droop(4.0)
      .rest(60.0)
      .start()
      .warm()
      .load(20.0, 2400.0)
      .load(80.0, 2400.0);
  CHECK(!judge(once.stop()).found(kSlug));
}

TEST_CASE("frequency-drift: a drift shows through the droop") {
  MadeRun run;
  run.droop(4.0).rest(60.0).start().warm();
  for (int i = 0; i < 6; ++i) run.load(30.0, 600.0).load(70.0, 600.0);
  run.stop().turn(creeping(1200.0, 5400.0, -0.0163));
  const Outcome out = judge(run);
  CHECK(out.findings() == "frequency-drift attention");
  CHECK(out.last(kSlug)->finding.detail[2] == Approx(4.0).margin(0.5));
}

// A set whose governor has 3 % droop, and one odd spell of two minutes early
// in the run: nothing moved away for good.
TEST_CASE("frequency-drift: one odd spell does not make a drift") {
  MadeRun run = usual_run(20.0);
  run.turn(during(600.0, 120.0, to(62.0 / 60.0)));
  CHECK(judge(run).findings() == "");
}

TEST_CASE("frequency-drift: a random walk of the noise is not significant") {
  for (std::uint32_t seed = 1; seed <= 8; ++seed) {
    MadeRun run;
    run.rest(60.0).start().warm().load(60.0, 5400.0).stop();
    run.noise(Channel::frequency, 0.3, seed);
    CHECK(judge(run).findings() == "");
  }
}

TEST_CASE("frequency-drift: blind where nothing tells the load") {
  MadeRun run = drifting(2.0, 1200.0, 4800.0);
  run.without(Channel::power)
      .without(Channel::current_l1)
      .without(Channel::current_l2);
  const Outcome out = judge(run);
  CHECK(!out.found(kSlug));
  CHECK(out.blind(kSlug) == Blind::no_load_reading);
}

TEST_CASE("frequency-drift: the same drift at 10 s and at 60 s") {
  for (const double interval : {10.0, 60.0}) {
    INFO(interval);
    const Outcome out = judge(drifting(1.63, 1200.0, 4800.0).every(interval));
    CHECK(out.findings() == "frequency-drift attention");
  }
}

TEST_CASE("frequency-drift: a profile changes the limit") {
  const Profile profile =
      with_limit(Plate{}.profile(), kSlug, {.attention = 2.0F});
  CHECK(judge(drifting(1.63, 1200.0, 4800.0), profile).findings() == "");
}

TEST_CASE("frequency-drift: a gap in the middle neither makes nor hides one") {
  MadeRun run = drifting(1.63, 1200.0, 4800.0);
  run.gap(3000.0, 3500.0);
  CHECK(judge(run).findings() == "data-gap note, frequency-drift attention");
}

}  // namespace
}  // namespace telltale::test
