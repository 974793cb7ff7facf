// alarm-chatter: three raises of one alarm within 60 s; attention (contract
// section 6; ISA-18.2 / IEC 62682 screening rule).
#include "telltale/detect/checks/alarm_chatter.hpp"

#include "catch.hpp"
#include "judge.hpp"

namespace telltale::test {
namespace {

constexpr const char* kSlug = "alarm-chatter";

MadeRun raising(int n, double apart, double from = 900.0) {
  MadeRun run = usual_run(30.0);
  for (int i = 0; i < n; ++i) {
    const double at = from + apart * i;
    run.alarm(3, at, at + apart / 2.0);
  }
  return run;
}

TEST_CASE("alarm-chatter: three raises within 60 s, not two") {
  CHECK(!judge(raising(2, 10.0)).found(kSlug));
  const Outcome out = judge(raising(3, 10.0));
  CHECK(out.findings() == "alarm-chatter attention");
  const Told& told = *out.first(kSlug);
  CHECK(told.finding.detail[0] == 3.0);  // the alarm's bit
  CHECK(told.finding.limit == 3.0);
  CHECK(told.since == 900.0);
  CHECK(told.at == 920.0);
}

TEST_CASE("alarm-chatter: within 60 s and beyond") {
  CHECK(judge(raising(3, 30.0)).found(kSlug));
  CHECK(!judge(raising(3, 32.0)).found(kSlug));
  CHECK(!judge(raising(10, 32.0)).found(kSlug));
}

TEST_CASE("alarm-chatter: of one alarm, not of three") {
  MadeRun run = usual_run(30.0);
  for (int i = 0; i < 3; ++i) {
    run.alarm(i, 900.0 + 10.0 * i, 905.0 + 10.0 * i);
  }
  CHECK(!judge(run).found(kSlug));
}

TEST_CASE("alarm-chatter: an alarm that stands is raised once") {
  MadeRun run = usual_run(30.0);
  run.alarm(3, 900.0, 1500.0);
  CHECK(judge(run).findings() == "");
}

TEST_CASE("alarm-chatter: what stands when the log begins was not raised") {
  MadeRun run = usual_run(30.0);
  run.alarm(3, 0.0, 5.0).alarm(3, 10.0, 15.0).alarm(3, 20.0, 25.0);
  CHECK(!judge(run).found(kSlug));
}

TEST_CASE("alarm-chatter: at rest it belongs to no run") {
  const Outcome out = judge(raising(4, 10.0, 20.0));
  REQUIRE(out.found(kSlug));
  CHECK(out.first(kSlug)->finding.run == 0);
}

// What was seen, its value: the raises within 60 s, not the limit over again.
TEST_CASE("alarm-chatter: the value is how many raises there were") {
  CHECK(judge(raising(8, 6.0)).last(kSlug)->finding.value > 3.0);
}

// A limit that the profile sets is the one to judge by.
TEST_CASE("alarm-chatter: a profile changes the number") {
  CHECK(!judge(raising(3, 10.0),
               with_limit(Plate{}.profile(), kSlug, {.attention = 5.0F}))
             .found(kSlug));
}

TEST_CASE("alarm-chatter: a profile changes the time") {
  CHECK(!judge(raising(3, 10.0),
               with_limit(Plate{}.profile(), kSlug, {.delay_s = 15.0F}))
             .found(kSlug));
}

}  // namespace
}  // namespace telltale::test
