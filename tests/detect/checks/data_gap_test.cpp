// data-gap: no samples while running; note > 10 intervals and > 10 s (contract
// section 6).
#include "telltale/detect/checks/data_gap.hpp"

#include "catch.hpp"
#include "judge.hpp"

namespace telltale::test {
namespace {

constexpr const char* kSlug = "data-gap";

Outcome with_gap(double length, double interval, double from = 1000.0) {
  return judge(usual_run(60.0).every(interval).gap(from, from + length));
}

TEST_CASE("data-gap: more than ten intervals and more than 10 s") {
  CHECK(!with_gap(10.0, 1.0).found(kSlug));
  CHECK(with_gap(11.0, 1.0).found(kSlug));
  // At 0.2 s ten intervals are 2 s: 10 s decide.
  CHECK(!with_gap(10.0, 0.2).found(kSlug));
  CHECK(with_gap(10.4, 0.2).found(kSlug));
  // At 10 s it takes 100 s.
  CHECK(!with_gap(100.0, 10.0).found(kSlug));
  CHECK(with_gap(110.0, 10.0).found(kSlug));
}

TEST_CASE("data-gap: what is told") {
  MadeRun run = usual_run(60.0);
  run.gap(1000.0, 1030.0).gap(2000.0, 2100.0);
  const Outcome out = judge(run);
  CHECK(out.findings() == "data-gap note");
  CHECK(out.first(kSlug)->since == 1000.0);
  CHECK(out.first(kSlug)->finding.value == Approx(30.0));
  const Told& told = *out.last(kSlug);
  CHECK(told.finding.unit == Unit::s);
  CHECK(told.finding.value == Approx(100.0));
  CHECK(told.finding.limit == Approx(10.0));
  CHECK(told.finding.detail[0] == 2.0);
  CHECK(told.finding.detail[1] == Approx(128.0));
}

TEST_CASE("data-gap: at rest a pause in logging is none") {
  MadeRun run;
  run.rest(900.0).start().warm().stop().rest(900.0).start().warm().stop();
  CHECK(judge(run.gap(100.0, 500.0).gap(1600.0, 2100.0)).findings() == "");
}

TEST_CASE("data-gap: gaps are left out of the running time") {
  const Outcome out = with_gap(300.0, 1.0);
  REQUIRE(out.runs.size() == 1);
  CHECK(out.runs[0].facts.gap_ms == Approx(299000).margin(1001));
}

TEST_CASE("data-gap: a logger that slows down has no gaps") {
  // From 1 s to 15 s at 1000 s: fifteen intervals, once.
  MadeRun run = usual_run(60.0);
  for (double t = 1000.0; t < 3000.0; t += 15.0) run.gap(t, t + 15.0);
  const Outcome out = judge(run);
  // The first long step may be told; what follows is the new interval.
  if (out.found(kSlug)) CHECK(out.last(kSlug)->finding.detail[0] <= 5.0);
}

TEST_CASE("data-gap: a profile changes the number of intervals") {
  CHECK(!judge(usual_run(60.0).gap(1000.0, 1030.0),
               with_limit(Plate{}.profile(), kSlug, {.note = 60.0F}))
             .found(kSlug));
}

}  // namespace
}  // namespace telltale::test
