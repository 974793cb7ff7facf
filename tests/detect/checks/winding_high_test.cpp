// winding-high: by thermal class, attention 20 K below the class temperature,
// urgent at it; A 105, E 120, B 130, F 155, H 180 degC (contract section 6; IEC
// 60085).
#include "telltale/detect/checks/winding_high.hpp"

#include "catch.hpp"
#include "judge.hpp"

namespace telltale::test {
namespace {

constexpr const char* kSlug = "winding-high";

Severity severity(double celsius, WindingClass winding, double s = 120.0) {
  MadeRun run = usual_run(20.0);
  run.fault(Channel::winding_temperature, during(900.0, s, to(celsius)));
  Profile profile = run.plate().profile();
  profile.rating.winding = winding;
  return judge(run, profile).severity(kSlug);
}

TEST_CASE("winding-high: every thermal class") {
  struct Case {
    WindingClass winding;
    double most;
  };
  for (const Case& c :
       {Case{WindingClass::A, 105.0}, Case{WindingClass::E, 120.0},
        Case{WindingClass::B, 130.0}, Case{WindingClass::F, 155.0},
        Case{WindingClass::H, 180.0}}) {
    INFO(c.most);
    CHECK(severity(c.most - 20.0, c.winding) == Severity::not_judged);
    CHECK(severity(c.most - 19.9, c.winding) == Severity::attention);
    CHECK(severity(c.most, c.winding) == Severity::attention);
    CHECK(severity(c.most + 0.1, c.winding) == Severity::urgent);
  }
}

// Trade fact (common practice): a winding over 200 degF, 93 degC, is no
// finding.
TEST_CASE("winding-high: 200 degF are none") {
  CHECK(severity(95.0, WindingClass::F) == Severity::not_judged);
  CHECK(severity(100.0, WindingClass::B) == Severity::not_judged);
}

TEST_CASE("winding-high: class F where none is given") {
  MadeRun run = usual_run(20.0);
  run.fault(Channel::winding_temperature, during(900.0, 120.0, to(140.0)));
  const Outcome out = judge(run);
  CHECK(out.severity(kSlug) == Severity::attention);
  const Told& told = *out.first(kSlug);
  CHECK(told.finding.channel == Channel::winding_temperature);
  CHECK(told.finding.unit == Unit::degC);
  CHECK(told.finding.value == 140.0);
  CHECK(told.finding.limit == 135.0);
  CHECK(told.since == 900.0);
}

TEST_CASE("winding-high: a moment is none") {
  CHECK(severity(160.0, WindingClass::F, 9.0) == Severity::not_judged);
  CHECK(severity(160.0, WindingClass::F, 40.0) == Severity::urgent);
}

TEST_CASE("winding-high: a profile changes the limits") {
  MadeRun run = usual_run(20.0);
  run.fault(Channel::winding_temperature, during(900.0, 120.0, to(125.0)));
  CHECK(judge(run, with_limit(Plate{}.profile(), kSlug, {.attention = 120.0F}))
            .severity(kSlug) == Severity::attention);
}

}  // namespace
}  // namespace telltale::test
