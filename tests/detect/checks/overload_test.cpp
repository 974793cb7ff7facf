// overload: rolling mean of power, or of a leg's current, against rating:
// attention 100 % over 15 min or 110 % over 60 s, urgent 120 % over 30 s
// (contract section 6; rated leg current = rating / (legs x leg volts x power
// factor)).
#include "telltale/detect/checks/overload.hpp"

#include "catch.hpp"
#include "judge.hpp"

namespace telltale::test {
namespace {

constexpr const char* kSlug = "overload";

/// That load for `s` seconds from 600 s on.
MadeRun loaded(double pct, double s, double interval = 1.0) {
  MadeRun run;
  run.every(interval).rest(60.0).start().warm().load(50.0, 204.0);
  return run.load(pct, s).load(50.0, 600.0).stop();
}
Severity severity(double pct, double s) {
  return judge(loaded(pct, s)).severity(kSlug);
}

TEST_CASE("overload: 100 % over 15 min") {
  CHECK(severity(101.0, 1500.0) == Severity::attention);
  CHECK(severity(101.0, 860.0) == Severity::not_judged);
  CHECK(severity(109.0, 700.0) == Severity::not_judged);
}

TEST_CASE("overload: 110 % over 60 s") {
  CHECK(severity(112.0, 120.0) == Severity::attention);
  CHECK(severity(112.0, 45.0) == Severity::not_judged);
  CHECK(severity(112.0, 80.0) == Severity::attention);
  CHECK(severity(119.0, 120.0) == Severity::attention);
}

TEST_CASE("overload: urgent at 120 % over 30 s") {
  CHECK(severity(119.5, 45.0) != Severity::urgent);
  CHECK(severity(125.0, 25.0) == Severity::not_judged);
  CHECK(severity(125.0, 50.0) == Severity::urgent);
}

// A load bank at exactly the rating, or at exactly a limit, passes nothing;
// rounding in the rolling mean must not either.
TEST_CASE("overload: the limits themselves are no finding") {
  CHECK(severity(100.0, 1500.0) == Severity::not_judged);
  CHECK(severity(110.0, 120.0) == Severity::not_judged);
  CHECK(severity(120.0, 45.0) != Severity::urgent);
}

TEST_CASE("overload: what is told") {
  const Outcome out = judge(loaded(130.0, 120.0)
                                .without(Channel::current_l1)
                                .without(Channel::current_l2));
  CHECK(out.findings() == "overload urgent");
  const Told& told = *out.last(kSlug);
  CHECK(told.finding.channel == Channel::power);
  CHECK(told.finding.unit == Unit::pct);
  CHECK(told.finding.limit == 120.0);
  CHECK(told.finding.value == Approx(130.0).margin(0.5));
  CHECK(told.since == Approx(600.0).margin(10.0));
  CHECK(told.until == Approx(720.0).margin(15.0));
}

TEST_CASE("overload: the load column where there is one") {
  MadeRun run = loaded(130.0, 120.0);
  run.with(Channel::load)
      .without(Channel::power)
      .without(Channel::current_l1)
      .without(Channel::current_l2);
  Profile profile = run.plate().profile();
  profile.rating.power_kw = kUnknown;
  const Outcome out = judge(run, profile);
  CHECK(out.severity(kSlug) == Severity::urgent);
  CHECK(out.first(kSlug)->finding.channel == Channel::load);
}

// Nearly all load on one leg: 62 % of the set's rating is 118 % of a leg's.
TEST_CASE("overload: a leg is full before the set is") {
  MadeRun run;
  run.rest(60.0).start().warm().load(62.0, 600.0).stop();
  run.fault(Channel::current_l1, [](const Scene&, double x) { return 1.9 * x; })
      .fault(Channel::current_l2,
             [](const Scene&, double x) { return 0.1 * x; });
  const Outcome out = judge(run);
  CHECK(out.severity(kSlug) == Severity::attention);
  CHECK(out.first(kSlug)->finding.channel == Channel::current_l1);
  // 62 % of a leg's 33.3 A, and 1.9 times that.
  CHECK(out.last(kSlug)->finding.value == Approx(117.8).margin(0.5));
}

TEST_CASE("overload: rated amps follow legs, volts and power factor") {
  CHECK(Plate{}.leg_amps() == Approx(33.333).margin(0.001));
  Profile profile = kEuropean.profile();
  CHECK(static_cast<double>(rated_leg_amps(profile.rating)) ==
        Approx(40000.0 / (3.0 * 230.94)).epsilon(1e-4));
  profile.rating.power_factor = 0.8F;
  CHECK(static_cast<double>(rated_leg_amps(profile.rating)) ==
        Approx(40000.0 / (3.0 * 230.94 * 0.8)).epsilon(1e-4));
  profile.rating.legs = 0;
  CHECK(!is_known(rated_leg_amps(profile.rating)));
}

TEST_CASE("overload: motor starts are none") {
  MadeRun run;
  run.rest(60.0).start().warm();
  for (int i = 0; i < 20; ++i) run.load(180.0, 2.0).load(60.0, 58.0);
  CHECK(judge(run.stop()).findings() == "");
}

TEST_CASE("overload: blind without a rating") {
  MadeRun run = loaded(130.0, 120.0);
  Profile profile = run.plate().profile();
  profile.rating.power_kw = kUnknown;
  profile.load_scale_kw = 10.4F;
  const Outcome out = judge(run, profile);
  CHECK(!out.found(kSlug));
  CHECK(out.blind(kSlug) == Blind::no_rating);
}

TEST_CASE("overload: seen at 10 s and at 60 s") {
  for (const double interval : {10.0, 60.0}) {
    CHECK(judge(loaded(130.0, 600.0, interval)).severity(kSlug) ==
          Severity::urgent);
  }
}

// 'Sustained' wants three readings: at 60 s one of them is a minute's sample.
TEST_CASE("overload: one reading a minute is not sustained") {
  CHECK(!judge(loaded(130.0, 60.0, 60.0)).found(kSlug));
}

TEST_CASE("overload: a gap in the middle is no load") {
  MadeRun run = loaded(112.0, 100.0);
  run.gap(630.0, 690.0);
  CHECK(!judge(run).found(kSlug));
}

TEST_CASE("overload: a profile changes the limits") {
  CHECK(judge(loaded(112.0, 120.0),
              with_limit(Plate{}.profile(), kSlug, {.attention = 115.0F}))
            .findings() == "");
}

}  // namespace
}  // namespace telltale::test
