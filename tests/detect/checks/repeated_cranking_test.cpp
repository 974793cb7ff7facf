// repeated-cranking: cranks in one start sequence, the good one counted;
// attention 3 cranks, or 30 s in all over 2 or more; urgent 5 cranks, or 45 s
// in all over 2 or more (contract section 6).
#include "telltale/detect/checks/repeated_cranking.hpp"

#include <string_view>

#include "catch.hpp"
#include "judge.hpp"

namespace telltale::test {
namespace {

constexpr const char* kSlug = "repeated-cranking";

/// `n` cranks of `s` seconds, `apart` seconds of rest between them, the last a
/// good one if `starts`.
MadeRun cranked(int n, double s, double apart = 20.0, bool starts = true) {
  MadeRun run;
  run.rest(120.0);
  for (int i = 0; i < n; ++i) {
    run.crank(s);
    if (i + 1 < n) run.rest(apart);
  }
  if (starts) return run.run_up(3.0).warm().stop();
  return run.rest(1200.0);
}
Severity severity(int n, double s, double apart = 20.0, bool starts = true) {
  return judge(cranked(n, s, apart, starts)).severity(kSlug);
}

TEST_CASE("repeated-cranking: by number") {
  CHECK(severity(1, 3.0) == Severity::not_judged);
  CHECK(severity(2, 3.0) == Severity::not_judged);
  CHECK(severity(3, 3.0) == Severity::attention);
  CHECK(severity(4, 3.0) == Severity::attention);
  // Trade fact (common practice): about five cranks at most.
  CHECK(severity(5, 3.0) == Severity::urgent);
}

TEST_CASE("repeated-cranking: by seconds, over two or more") {
  CHECK(severity(2, 13.0) == Severity::not_judged);
  CHECK(severity(2, 16.0) == Severity::attention);
  CHECK(severity(2, 21.0) == Severity::attention);
  CHECK(severity(2, 24.0) == Severity::urgent);
  // One long crank is another check's business.
  CHECK(severity(1, 50.0) == Severity::not_judged);
}

TEST_CASE("repeated-cranking: cranks that never start count as well") {
  CHECK(severity(3, 3.0, 20.0, false) == Severity::attention);
  CHECK(severity(5, 3.0, 20.0, false) == Severity::urgent);
}

TEST_CASE("repeated-cranking: 10 min apart are another sequence") {
  // Contract section 4: less than 10 min between them belong together.
  CHECK(severity(3, 3.0, 580.0) == Severity::attention);
  CHECK(severity(3, 3.0, 620.0) == Severity::not_judged);
}

TEST_CASE("repeated-cranking: what is told") {
  const Outcome out = judge(cranked(4, 4.0));
  const Told& told = *out.last(kSlug);
  CHECK(told.finding.value == 4.0);
  CHECK(told.finding.limit == 3.0);
  CHECK(told.finding.detail[0] == 4.0);
  CHECK(told.finding.detail[1] == Approx(16.0).margin(1.0));
  // Attention began with the third crank: 120 + 2 x 24.
  CHECK(out.first(kSlug)->since == Approx(168.0).margin(1.0));
}

TEST_CASE("repeated-cranking: the advice shuts the sea cock") {
  const std::string_view first = RepeatedCranking<double>::advice.next[0];
  CHECK(first.find("sea cock") != std::string_view::npos);
}

TEST_CASE("repeated-cranking: blind slowly and without the start") {
  const Outcome slow = judge(cranked(5, 10.0, 20.0).every(5.0));
  CHECK(!slow.found(kSlug));
  CHECK(slow.blind(kSlug) == Blind::interval_too_long);
  MadeRun begins;
  begins.load(50.0, 300.0).stop();
  CHECK(judge(begins).blind(kSlug) == Blind::start_not_seen);
}

TEST_CASE("repeated-cranking: a profile changes the number") {
  CHECK(!judge(cranked(3, 3.0),
               with_limit(Plate{}.profile(), kSlug, {.attention = 4.0F}))
             .found(kSlug));
}

}  // namespace
}  // namespace telltale::test
