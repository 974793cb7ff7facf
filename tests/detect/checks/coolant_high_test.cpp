// coolant-high: fresh water attention 95 degC, urgent 105; sea water 75, 85;
// for 10 s (contract section 6).
#include "telltale/detect/checks/coolant_high.hpp"

#include "catch.hpp"
#include "judge.hpp"

namespace telltale::test {
namespace {

constexpr const char* kSlug = "coolant-high";

MadeRun hot(double celsius, double s = 60.0) {
  MadeRun run = usual_run(20.0);
  run.fault(Channel::coolant_temperature, during(900.0, s, to(celsius)));
  return run;
}
Profile sea_water() {
  Profile profile = Plate{}.profile();
  profile.rating.cooling = Cooling::sea_water;
  return profile;
}
/// A sea-water cooled engine stays near 55 degC.
MadeRun sea_cooled(double celsius) {
  MadeRun run = usual_run(20.0);
  run.fault(Channel::coolant_temperature,
            [](const Scene&, double x) { return x < 55.0 ? x : 55.0; })
      .noise(Channel::coolant_temperature, 0.2, 4)
      .fault(Channel::coolant_temperature, during(900.0, 60.0, to(celsius)));
  return run;
}

TEST_CASE("coolant-high: the limits themselves are no finding") {
  CHECK(judge(hot(95.0)).severity(kSlug) == Severity::not_judged);
  CHECK(judge(hot(95.1)).severity(kSlug) == Severity::attention);
  CHECK(judge(hot(105.0)).severity(kSlug) == Severity::attention);
  CHECK(judge(hot(105.1)).severity(kSlug) == Severity::urgent);
}

TEST_CASE("coolant-high: sea water has its own limits") {
  const Profile sea = sea_water();
  CHECK(judge(sea_cooled(75.0), sea).severity(kSlug) == Severity::not_judged);
  CHECK(judge(sea_cooled(75.1), sea).severity(kSlug) == Severity::attention);
  CHECK(judge(sea_cooled(85.0), sea).severity(kSlug) == Severity::attention);
  CHECK(judge(sea_cooled(85.1), sea).severity(kSlug) == Severity::urgent);
}

TEST_CASE("coolant-high: what is told") {
  const Outcome out = judge(hot(99.0));
  const Told& told = *out.first(kSlug);
  CHECK(told.finding.channel == Channel::coolant_temperature);
  CHECK(told.finding.unit == Unit::degC);
  CHECK(told.finding.value == 99.0);
  CHECK(told.finding.limit == 95.0);
  CHECK(told.since == 900.0);
  CHECK(out.last(kSlug)->until == Approx(959.0));
}

TEST_CASE("coolant-high: just before and just after 10 s") {
  CHECK(!judge(hot(99.0, 9.0)).found(kSlug));
  CHECK(judge(hot(99.0, 12.0)).found(kSlug));
}

TEST_CASE("coolant-high: heat soak after the stop does not count") {
  MadeRun run = usual_run(20.0);
  run.rest(600.0).fault(Channel::coolant_temperature,
                        since(run.now() - 620.0, to(108.0)));
  CHECK(!judge(run).found(kSlug));
}

TEST_CASE("coolant-high: three readings at a minute's interval") {
  MadeRun two = usual_run(30.0).every(60.0);
  two.fault(Channel::coolant_temperature, during(900.0, 120.0, to(110.0)));
  CHECK(!judge(two).found(kSlug));
  MadeRun three = usual_run(30.0).every(60.0);
  three.fault(Channel::coolant_temperature, during(900.0, 180.0, to(110.0)));
  CHECK(judge(three).severity(kSlug) == Severity::urgent);
}

TEST_CASE("coolant-high: a profile changes a limit") {
  CHECK(judge(hot(93.0),
              with_limit(Plate{}.profile(), kSlug, {.attention = 92.0F}))
            .severity(kSlug) == Severity::attention);
}

}  // namespace
}  // namespace telltale::test
