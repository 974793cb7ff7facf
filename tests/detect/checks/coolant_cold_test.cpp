// coolant-cold: never warm; attention < 65 degC (sea water 40) after 20 min on
// load (contract section 6).
#include "telltale/detect/checks/coolant_cold.hpp"

#include "catch.hpp"
#include "judge.hpp"

namespace telltale::test {
namespace {

constexpr const char* kSlug = "coolant-cold";

/// Coolant that rises no higher than that.
MadeRun cold(double celsius, double minutes = 40.0) {
  MadeRun run = usual_run(minutes);
  run.fault(Channel::coolant_temperature,
            [=](const Scene& s, double x) {
              return x < celsius || s.ran <= 0.0 ? x : celsius;
            })
      .noise(Channel::coolant_temperature, 0.02, 8);
  return run;
}

TEST_CASE("coolant-cold: below 65 degC after 20 min on load") {
  CHECK(!judge(cold(65.1)).found(kSlug));
  const Outcome out = judge(cold(64.5));
  CHECK(out.severity(kSlug) == Severity::attention);
  const Told& told = *out.first(kSlug);
  CHECK(told.finding.channel == Channel::coolant_temperature);
  CHECK(told.finding.unit == Unit::degC);
  CHECK(told.finding.limit == 65.0);
  CHECK(told.finding.value == Approx(64.5).margin(0.05));
  // On load from 156 s on, so judged from 1356 s.
  CHECK(told.since == Approx(1356.0).margin(20.0));
}

TEST_CASE("coolant-cold: 19 min on load are not enough") {
  CHECK(!judge(cold(50.0, 13.5)).found(kSlug));
  CHECK(judge(cold(50.0, 19.0)).found(kSlug));
  CHECK(judge(cold(50.0, 5.0)).blind(kSlug) == Blind::never_on_load);
}

TEST_CASE("coolant-cold: sea water is warm at 40") {
  Profile profile = Plate{}.profile();
  profile.rating.cooling = Cooling::sea_water;
  CHECK(!judge(cold(45.0), profile).found(kSlug));
  CHECK(judge(cold(38.0), profile).severity(kSlug) == Severity::attention);
}

TEST_CASE("coolant-cold: running without load is not judged") {
  MadeRun run;
  run.rest(60.0).start().load(0.0, 3000.0).stop();
  run.fault(Channel::coolant_temperature,
            [](const Scene&, double) { return 45.0; })
      .noise(Channel::coolant_temperature, 0.1, 8);
  const Outcome out = judge(run);
  CHECK(!out.found(kSlug));
  CHECK(out.blind(kSlug) == Blind::never_on_load);
}

TEST_CASE("coolant-cold: a slow but sound engine is not accused") {
  // Passes 65 degC after 18 min on load.
  MadeRun run = usual_run(40.0);
  run.fault(Channel::coolant_temperature, [](const Scene& s, double x) {
    return s.ran <= 0.0 ? x : 20.0 + (s.ran - 30.0) / 60.0 * 2.6;
  });
  run.fault(Channel::coolant_temperature,
            [](const Scene&, double x) { return x < 83.0 ? x : 83.0; });
  CHECK(!judge(run).found(kSlug));
}

TEST_CASE("coolant-cold: by amps alone") {
  MadeRun run = cold(50.0);
  run.without(Channel::power);
  Profile profile = run.plate().profile();
  profile.rating.power_kw = kUnknown;
  profile.rating.voltage_v = kUnknown;
  CHECK(judge(run, profile).found(kSlug));
}

TEST_CASE("coolant-cold: a profile changes the limit") {
  CHECK(!judge(cold(60.0),
               with_limit(Plate{}.profile(), kSlug, {.attention = 55.0F}))
             .found(kSlug));
}

}  // namespace
}  // namespace telltale::test
