// alarm-flood: over 10 raises in 10 min until under 5 in 10 min; attention
// (contract section 6; ISA-18.2 / EEMUA 191).
#include "telltale/detect/checks/alarm_flood.hpp"

#include "catch.hpp"
#include "judge.hpp"

namespace telltale::test {
namespace {

constexpr const char* kSlug = "alarm-flood";

/// `n` raises of different alarms, `apart` seconds between them.
MadeRun flooding(int n, double apart) {
  MadeRun run = usual_run(60.0);
  for (int i = 0; i < n; ++i) {
    const double at = 900.0 + apart * i;
    run.alarm(i % 24, at, at + 5.0);
  }
  return run;
}

TEST_CASE("alarm-flood: above ten in ten minutes") {
  CHECK(judge(flooding(10, 40.0)).findings() == "");
  const Outcome out = judge(flooding(11, 40.0));
  CHECK(out.findings() == "alarm-flood attention");
  const Told& told = *out.first(kSlug);
  CHECK(told.finding.value == 11.0);
  CHECK(told.finding.limit == 10.0);
  CHECK(told.since == 900.0);
  CHECK(told.at == 1300.0);
}

TEST_CASE("alarm-flood: spread over more than ten minutes it is none") {
  CHECK(judge(flooding(22, 62.0)).findings() == "");
}

TEST_CASE("alarm-flood: over when under five in ten minutes") {
  const Outcome out = judge(flooding(12, 20.0));
  const Told& told = *out.last(kSlug);
  CHECK(told.finding.event == FindingEvent::closed);
  // The eighth raise from the end leaves the ten minutes: 900 + 7 x 20 + 600.
  CHECK(told.at == Approx(1641.0).margin(3.0));
  CHECK(told.finding.detail[0] == 12.0);
}

TEST_CASE("alarm-flood: many at once count each") {
  MadeRun run = usual_run(60.0);
  for (int i = 0; i < 12; ++i) run.alarm(i, 900.0, 960.0);
  CHECK(judge(run).findings() == "alarm-flood attention");
}

TEST_CASE("alarm-flood: two floods with a calm between them") {
  MadeRun run = flooding(12, 20.0);
  for (int i = 0; i < 12; ++i) {
    run.alarm(i, 2600.0 + 20.0 * i, 2605.0 + 20.0 * i);
  }
  int opened = 0;
  for (const Told& told : judge(run).told) {
    const bool opens = told.finding.event == FindingEvent::opened;
    opened += told.slug == kSlug && opens ? 1 : 0;
  }
  CHECK(opened == 2);
}

TEST_CASE("alarm-flood: a profile changes the number") {
  CHECK(judge(flooding(12, 20.0),
              with_limit(Plate{}.profile(), kSlug, {.attention = 15.0F}))
            .findings() == "");
}

}  // namespace
}  // namespace telltale::test
