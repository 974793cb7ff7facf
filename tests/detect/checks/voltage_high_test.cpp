// voltage-high: steady volts, per leg and leg to leg; attention +6 % for 30 s,
// urgent +15 % for 10 s (contract section 6; IACS UR E5 permanent +6 %).
#include "telltale/detect/checks/voltage_high.hpp"

#include "catch.hpp"
#include "judge.hpp"

namespace telltale::test {
namespace {

constexpr const char* kSlug = "voltage-high";

MadeRun high(Channel channel, double volts, double s = 120.0,
             const Plate& plate = {}) {
  MadeRun run = usual_run(20.0, plate);
  run.fault(channel, during(600.0, s, to(volts)));
  return run;
}

TEST_CASE("voltage-high: legs and line each by their own nominal") {
  // Two 120 V windings give 240 V (common practice).
  struct Case {
    Channel channel;
    double nominal;
  };
  for (const Case& c :
       {Case{Channel::voltage_l1, 120.0}, Case{Channel::voltage_l2, 120.0},
        Case{Channel::voltage_line, 240.0}}) {
    INFO(info_of(c.channel).slug);
    CHECK(!judge(high(c.channel, c.nominal * 1.059)).found(kSlug));
    const Outcome out = judge(high(c.channel, c.nominal * 1.061));
    CHECK(out.severity(kSlug) == Severity::attention);
    const Told& told = *out.first(kSlug);
    CHECK(told.finding.channel == c.channel);
    CHECK(told.finding.unit == Unit::V);
    CHECK(told.finding.limit == Approx(c.nominal * 1.06));
    CHECK(told.finding.value == Approx(c.nominal * 1.061));
    CHECK(told.since == 600.0);
    CHECK(judge(high(c.channel, c.nominal * 1.149)).severity(kSlug) ==
          Severity::attention);
    CHECK(judge(high(c.channel, c.nominal * 1.151)).severity(kSlug) ==
          Severity::urgent);
  }
}

// 'Above +6 %': a column in tenths that stands at the very limit is inside.
TEST_CASE("voltage-high: the limit itself is no finding") {
  CHECK(!judge(high(Channel::voltage_l1, 127.2)).found(kSlug));
  CHECK(!judge(high(Channel::voltage_line, 254.4)).found(kSlug));
  CHECK(!judge(high(Channel::voltage_line, 424.0, 120.0, kEuropean))
             .found(kSlug));
}

TEST_CASE("voltage-high: three phases, 230/400 V") {
  CHECK(
      !judge(high(Channel::voltage_l3, 244.0, 120.0, kEuropean)).found(kSlug));
  const Outcome out = judge(high(Channel::voltage_l3, 246.0, 120.0, kEuropean));
  CHECK(out.severity(kSlug) == Severity::attention);
  // 400 / sqrt(3) * 1.06
  CHECK(out.first(kSlug)->finding.limit == Approx(244.80).margin(0.01));
}

TEST_CASE("voltage-high: a single leg is leg to neutral") {
  const Plate single{50.0, 2, 6.0, 230.0, 1, 12.0};
  CHECK(!judge(high(Channel::voltage_l1, 243.0, 120.0, single)).found(kSlug));
  CHECK(judge(high(Channel::voltage_l1, 244.5, 120.0, single)).found(kSlug));
}

TEST_CASE("voltage-high: just before and just after the delay") {
  CHECK(!judge(high(Channel::voltage_line, 260.0, 29.0)).found(kSlug));
  CHECK(judge(high(Channel::voltage_line, 260.0, 32.0)).severity(kSlug) ==
        Severity::attention);
  CHECK(!judge(high(Channel::voltage_line, 280.0, 9.0)).found(kSlug));
  CHECK(judge(high(Channel::voltage_line, 280.0, 12.0)).severity(kSlug) ==
        Severity::urgent);
}

TEST_CASE("voltage-high: 10 s after a load step are not judged") {
  MadeRun run = usual_run(20.0);
  run.fault(Channel::voltage_line, during(kLoaded, 38.0, to(260.0)));
  CHECK(!judge(run).found(kSlug));
}

TEST_CASE("voltage-high: blind where no system is known") {
  Profile profile = Plate{}.profile();
  profile.rating.voltage_v = kUnknown;
  const Outcome out = judge(high(Channel::voltage_line, 300.0), profile);
  CHECK(!out.found(kSlug));
  CHECK(out.blind(kSlug) == Blind::no_nominal);
}

TEST_CASE("voltage-high: one leg is enough to judge by") {
  MadeRun run = usual_run(10.0);
  run.without(Channel::voltage_l2).without(Channel::voltage_line);
  CHECK(judge(run).judged(kSlug) > 0);
  run.without(Channel::voltage_l1);
  CHECK(judge(run).blind(kSlug) == Blind::no_channel);
}

TEST_CASE("voltage-high: a profile changes a limit") {
  CHECK(!judge(high(Channel::voltage_line, 260.0),
               with_limit(Plate{}.profile(), kSlug, {.attention = 10.0F}))
             .found(kSlug));
}

TEST_CASE("voltage-high: each channel has its own finding") {
  MadeRun run = high(Channel::voltage_l1, 130.0);
  run.fault(Channel::voltage_l2, during(800.0, 120.0, to(140.0)));
  const Outcome out = judge(run);
  CHECK(out.first(kSlug, Channel::voltage_l1)->since == 600.0);
  CHECK(out.first(kSlug, Channel::voltage_l2)->since == 800.0);
  CHECK(out.last(kSlug, Channel::voltage_l1)->finding.severity ==
        Severity::attention);
  CHECK(out.last(kSlug, Channel::voltage_l2)->finding.severity ==
        Severity::urgent);
}

}  // namespace
}  // namespace telltale::test
