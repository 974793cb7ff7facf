// voltage-low: attention -10 % for 30 s, urgent -15 % for 10 s, per leg and leg
// to leg (contract section 6; IACS UR E5 permanent -10 %).
#include "telltale/detect/checks/voltage_low.hpp"

#include "catch.hpp"
#include "judge.hpp"

namespace telltale::test {
namespace {

constexpr const char* kSlug = "voltage-low";

MadeRun low(Channel channel, double volts, double s = 120.0,
            const Plate& plate = {}) {
  MadeRun run = usual_run(20.0, plate);
  run.fault(channel, during(600.0, s, to(volts)));
  return run;
}

TEST_CASE("voltage-low: legs and line each by their own nominal") {
  struct Case {
    Channel channel;
    double nominal;
  };
  for (const Case& c :
       {Case{Channel::voltage_l1, 120.0}, Case{Channel::voltage_l2, 120.0},
        Case{Channel::voltage_line, 240.0}}) {
    INFO(info_of(c.channel).slug);
    CHECK(!judge(low(c.channel, c.nominal * 0.901)).found(kSlug));
    const Outcome out = judge(low(c.channel, c.nominal * 0.899));
    CHECK(out.severity(kSlug) == Severity::attention);
    const Told& told = *out.first(kSlug);
    CHECK(told.finding.channel == c.channel);
    CHECK(told.finding.limit == Approx(c.nominal * 0.9));
    CHECK(told.finding.value == Approx(c.nominal * 0.899));
    CHECK(told.since == 600.0);
    CHECK(judge(low(c.channel, c.nominal * 0.851)).severity(kSlug) ==
          Severity::attention);
    CHECK(judge(low(c.channel, c.nominal * 0.849)).severity(kSlug) ==
          Severity::urgent);
  }
}

TEST_CASE("voltage-low: the limit itself is no finding") {
  CHECK(!judge(low(Channel::voltage_l1, 108.0).without(Channel::voltage_l2))
             .found(kSlug));
  CHECK(!judge(low(Channel::voltage_line, 216.0)).found(kSlug));
  CHECK(
      !judge(low(Channel::voltage_line, 360.0, 120.0, kEuropean)).found(kSlug));
}

TEST_CASE("voltage-low: just before and just after the delay") {
  CHECK(!judge(low(Channel::voltage_line, 210.0, 29.0)).found(kSlug));
  CHECK(judge(low(Channel::voltage_line, 210.0, 32.0)).severity(kSlug) ==
        Severity::attention);
  CHECK(!judge(low(Channel::voltage_line, 190.0, 9.0)).found(kSlug));
  CHECK(judge(low(Channel::voltage_line, 190.0, 12.0)).severity(kSlug) ==
        Severity::urgent);
}

TEST_CASE("voltage-low: building up and running down do not count") {
  MadeRun run;
  run.rest(60.0).crank(3.0).run_up(45.0).load(0.0, 20.0).load(50.0, 300.0);
  run.load(0.0, 180.0).coast(45.0).rest(30.0);
  CHECK(!judge(run).found(kSlug));
}

TEST_CASE("voltage-low: no excitation at all is urgent") {
  const Outcome out = judge([] {
    MadeRun run = usual_run(20.0);
    for (const Channel channel :
         {Channel::voltage_l1, Channel::voltage_l2, Channel::voltage_line}) {
      run.fault(channel, during(600.0, 300.0, times(0.02)));
    }
    return run;
  }());
  CHECK(out.severity(kSlug) == Severity::urgent);
}

TEST_CASE("voltage-low: a profile changes a limit") {
  CHECK(!judge(low(Channel::voltage_line, 210.0),
               with_limit(Plate{}.profile(), kSlug, {.attention = -14.0F}))
             .found(kSlug));
}

TEST_CASE("voltage-low: closes when volts are back") {
  const Told told = *judge(low(Channel::voltage_line, 210.0, 60.0)).last(kSlug);
  CHECK(told.finding.event == FindingEvent::closed);
  CHECK(told.until == Approx(659.0));
  CHECK(told.at == Approx(690.0).margin(2.0));
}

}  // namespace
}  // namespace telltale::test
