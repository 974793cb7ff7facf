// battery-rest-low: median volts at rest before the start, the last 45 s left
// out, at least 30 s of rest; attention < 12.2 V; doubled for 24 V (contract
// section 6).
#include "telltale/detect/checks/battery_rest_low.hpp"

#include "catch.hpp"
#include "judge.hpp"

namespace telltale::test {
namespace {

constexpr const char* kSlug = "battery-rest-low";

MadeRun rested(double volts, double rest = 300.0, const Plate& plate = {}) {
  MadeRun run(plate);
  run.rest(rest).start().warm().stop();
  run.fault(Channel::battery_voltage, during(0.0, rest, to(volts)));
  return run;
}

TEST_CASE("battery-rest-low: 12 V and 24 V limits") {
  CHECK(judge(rested(12.2)).findings() == "");
  const Outcome out = judge(rested(12.15));
  CHECK(out.findings() == "battery-rest-low attention");
  const Told& told = *out.first(kSlug);
  CHECK(told.finding.channel == Channel::battery_voltage);
  CHECK(told.finding.unit == Unit::V);
  CHECK(told.finding.value == 12.15);
  CHECK(told.finding.limit == Approx(12.2));
  CHECK(told.until <= 256.0);
  CHECK(judge(rested(24.4, 300.0, kEuropean)).findings() == "");
  CHECK(judge(rested(24.35, 300.0, kEuropean)).findings() ==
        "battery-rest-low attention");
}

TEST_CASE("battery-rest-low: preheating is left out") {
  MadeRun run = rested(12.6);
  run.fault(Channel::battery_voltage, during(256.0, 44.0, to(11.4)));
  CHECK(judge(run).findings() == "");
}

TEST_CASE("battery-rest-low: a dip among healthy readings is none") {
  MadeRun run = rested(12.6);
  run.fault(Channel::battery_voltage, during(150.0, 40.0, to(11.4)));
  CHECK(judge(run).findings() == "");
}

TEST_CASE("battery-rest-low: 30 s of rest at least, beside the 45") {
  const Outcome brief = judge(rested(11.9, 60.0));
  CHECK(!brief.found(kSlug));
  CHECK(brief.blind(kSlug) == Blind::rest_not_seen);
  CHECK(judge(rested(11.9, 100.0)).found(kSlug));
}

TEST_CASE("battery-rest-low: a log that begins running has seen no rest") {
  MadeRun run;
  run.load(50.0, 300.0).stop();
  CHECK(judge(run).blind(kSlug) == Blind::rest_not_seen);
}

TEST_CASE("battery-rest-low: the second start has its own rest") {
  MadeRun run = rested(12.7);
  const double second = run.now() + 900.0;
  run.rest(900.0).start().warm().stop();
  run.fault(Channel::battery_voltage, during(second - 300.0, 300.0, to(12.0)));
  const Outcome out = judge(run);
  REQUIRE(out.runs.size() == 2);
  CHECK(out.first(kSlug)->finding.run == 2);
}

TEST_CASE("battery-rest-low: seen where rest is logged once a minute") {
  MadeRun run;
  run.every(60.0).rest(1200.0).crank(60.0).run_up(60.0).load(50.0, 1200.0);
  run.fault(Channel::battery_voltage, during(0.0, 1200.0, to(12.0)));
  CHECK(judge(run).found(kSlug));
}

TEST_CASE("battery-rest-low: a profile changes the limit") {
  CHECK(judge(rested(12.15),
              with_limit(Plate{}.profile(), kSlug, {.attention = 12.0F}))
            .findings() == "");
}

}  // namespace
}  // namespace telltale::test
