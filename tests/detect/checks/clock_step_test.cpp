// clock-step: the log's clock was set; note (contract sections 3 and 6).
#include "telltale/detect/checks/clock_step.hpp"

#include "catch.hpp"
#include "judge.hpp"

namespace telltale::test {
namespace {

constexpr const char* kSlug = "clock-step";

TEST_CASE("clock-step: both ways, with how far") {
  for (const double jump : {3600.0, -3600.0}) {
    const Outcome out = judge(usual_run(20.0).clock_step(900.0, jump));
    CHECK(out.findings() == "clock-step note");
    const Told& told = *out.first(kSlug);
    CHECK(told.finding.unit == Unit::s);
    CHECK(told.finding.value == jump);
    CHECK(told.since == 900.0);
    CHECK(told.finding.detail[0] == (jump > 0 ? 1.0 : 0.0));
    CHECK(told.finding.run == 1);
    // The run is not split and its time not stretched.
    REQUIRE(out.runs.size() == 1);
    CHECK(out.runs[0].facts.gap_ms == 0);
  }
}

TEST_CASE("clock-step: every step is told, also at rest") {
  MadeRun run = usual_run(20.0);
  run.clock_step(60.0, 7200.0).clock_step(900.0, -3600.0);
  const Outcome out = judge(run);
  CHECK(out.told.size() == 2);
  CHECK(out.first(kSlug)->finding.run == 0);
}

TEST_CASE("clock-step: no step, nothing told") {
  CHECK(!judge(usual_run(20.0)).found(kSlug));
}

}  // namespace
}  // namespace telltale::test
