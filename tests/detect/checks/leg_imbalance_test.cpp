// leg-imbalance: difference of current between the legs > 40 % of rated leg
// current for 10 min; rated leg current = rating / (legs x leg volts x power
// factor) (contract section 6).
#include "telltale/detect/checks/leg_imbalance.hpp"

#include "catch.hpp"
#include "judge.hpp"

namespace telltale::test {
namespace {

constexpr const char* kSlug = "leg-imbalance";

/// One leg carries `pct` of a leg's rating more than the others for `s`
/// seconds, the set being at 60 % before and some 30 % from then on.
MadeRun uneven(double pct, double s = 900.0, const Plate& plate = {},
               Channel more = Channel::current_l1) {
  MadeRun run(plate);
  run.rest(120.0).start().warm().load(60.0, 144.0).load(30.0, 1650.0).stop();
  run.noise(Channel::power, 0.02, 4)
      .fault(more, during(600.0, s, by(plate.leg_amps() * pct / 100.0)));
  return run;
}

TEST_CASE("leg-imbalance: beyond 40 % of a leg's rating") {
  CHECK(judge(uneven(39.5)).findings() == "");
  const Outcome out = judge(uneven(41.0));
  CHECK(out.severity(kSlug) == Severity::attention);
  const Told& told = *out.first(kSlug);
  CHECK(told.finding.channel == Channel::current_l1);
  CHECK(told.finding.unit == Unit::pct);
  CHECK(told.finding.limit == 40.0);
  CHECK(told.finding.value == Approx(41.0).margin(0.1));
  CHECK(told.since == Approx(600.0).margin(15.0));
  CHECK(told.finding.detail[3] == Approx(33.333).margin(0.01));
}

TEST_CASE("leg-imbalance: just before and just after 10 min") {
  CHECK(!judge(uneven(60.0, 580.0)).found(kSlug));
  CHECK(judge(uneven(60.0, 640.0)).found(kSlug));
}

TEST_CASE("leg-imbalance: the fuller leg is named, three legs too") {
  CHECK(judge(uneven(50.0, 900.0, {}, Channel::current_l2))
            .first(kSlug)
            ->finding.channel == Channel::current_l2);
  const Outcome out =
      judge(uneven(45.0, 900.0, kEuropean, Channel::current_l3));
  REQUIRE(out.found(kSlug));
  CHECK(out.first(kSlug)->finding.channel == Channel::current_l3);
  CHECK(out.first(kSlug)->finding.value == Approx(45.0).margin(0.2));
}

// What stands until the stop must close under the leg it opened with.
TEST_CASE("leg-imbalance: closes the finding that it opened") {
  const MadeRun run = uneven(50.0, 1e6, {}, Channel::current_l2);
  const Outcome out =
      judge_by(run.scans(), run.plate().profile(), Feeding::scans);
  CHECK(loose_ends(out) == "");
}

TEST_CASE("leg-imbalance: power factor counts") {
  // At a rated power factor of 0.8 a leg may carry a quarter more.
  Profile profile = Plate{}.profile();
  profile.rating.power_factor = 0.8F;
  CHECK(!judge(uneven(45.0), profile).found(kSlug));
  CHECK(judge(uneven(52.0), profile).found(kSlug));
}

TEST_CASE("leg-imbalance: blind where rating, volts or legs are not known") {
  for (int i = 0; i < 3; ++i) {
    Profile profile = Plate{}.profile();
    if (i == 0) profile.rating.power_kw = kUnknown;
    if (i == 1) profile.rating.voltage_v = kUnknown;
    if (i == 2) profile.rating.legs = 0;
    const Outcome out = judge(uneven(60.0), profile);
    CHECK(!out.found(kSlug));
    CHECK(out.blind(kSlug) == Blind::no_rating);
  }
}

TEST_CASE("leg-imbalance: a single-leg set has no legs to compare") {
  const Plate single{50.0, 2, 6.0, 230.0, 1, 12.0};
  const Outcome out = judge(usual_run(20.0, single));
  CHECK(out.blind(kSlug) == Blind::no_channel);
}

TEST_CASE("leg-imbalance: a profile changes limit and delay") {
  CHECK(!judge(uneven(45.0),
               with_limit(Plate{}.profile(), kSlug, {.attention = 50.0F}))
             .found(kSlug));
  CHECK(judge(uneven(45.0, 200.0),
              with_limit(Plate{}.profile(), kSlug, {.delay_s = 120.0F}))
            .found(kSlug));
}

}  // namespace
}  // namespace telltale::test
