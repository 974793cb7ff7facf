// early-load: over half load before the coolant has reached 40 degC, for 30 s
// (contract section 6).
#include "telltale/detect/checks/early_load.hpp"

#include "catch.hpp"
#include "judge.hpp"

namespace telltale::test {
namespace {

constexpr const char* kSlug = "early-load";

/// Loaded to `pct` from 100 s on, the coolant standing at `celsius` for `s`.
MadeRun early(double pct, double celsius, double s) {
  MadeRun run;
  run.rest(60.0).start().load(0.0, 34.0).load(pct, 600.0).stop();
  run.fault(Channel::coolant_temperature, [=](const Scene& scene, double) {
    return scene.t < 100.0 + s ? celsius : 70.0;
  });
  return run;
}

TEST_CASE("early-load: over half load below 40 degC") {
  const Outcome out = judge(early(60.0, 39.5, 60.0));
  CHECK(out.severity(kSlug) == Severity::attention);
  const Told& told = *out.first(kSlug);
  CHECK(told.finding.channel == Channel::coolant_temperature);
  CHECK(told.finding.unit == Unit::degC);
  CHECK(told.finding.value == 39.5);
  CHECK(told.finding.limit == 40.0);
  CHECK(told.since == Approx(100.0).margin(1.0));
  CHECK(told.finding.detail[0] == Approx(60.0));
}

TEST_CASE("early-load: neither at 40 degC nor at half load") {
  CHECK(!judge(early(60.0, 40.0, 60.0)).found(kSlug));
  CHECK(!judge(early(50.0, 25.0, 300.0)).found(kSlug));
  CHECK(judge(early(51.0, 25.0, 300.0)).found(kSlug));
}

TEST_CASE("early-load: just before and just after 30 s") {
  CHECK(!judge(early(60.0, 25.0, 29.0)).found(kSlug));
  CHECK(judge(early(60.0, 25.0, 32.0)).found(kSlug));
}

TEST_CASE("early-load: load that comes and goes does not add up") {
  MadeRun run;
  run.rest(60.0).start().load(0.0, 34.0);
  for (int i = 0; i < 10; ++i) run.load(60.0, 20.0).load(10.0, 20.0);
  run.stop().fault(Channel::coolant_temperature,
                   [](const Scene&, double) { return 25.0; });
  CHECK(!judge(run).found(kSlug));
}

TEST_CASE("early-load: blind without a rating, never without reason") {
  MadeRun run = early(60.0, 25.0, 300.0);
  Profile profile = run.plate().profile();
  profile.rating.power_kw = kUnknown;
  profile.load_scale_kw = 4.8F;
  const Outcome out = judge(run, profile);
  CHECK(!out.found(kSlug));
  CHECK(out.blind(kSlug) == Blind::no_rating);
}

TEST_CASE("early-load: a profile changes the limit") {
  CHECK(!judge(early(60.0, 35.0, 60.0),
               with_limit(Plate{}.profile(), kSlug, {.attention = 30.0F}))
             .found(kSlug));
}

}  // namespace
}  // namespace telltale::test
