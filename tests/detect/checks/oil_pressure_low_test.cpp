// oil-pressure-low: while speed is within 10 % of nominal, from 10 s after the
// start; 3 s and 2 readings; attention < max(110, 47 per 1000 rpm) kPa, urgent
// < max(80, 28 per 1000 rpm) kPa; rated speed unknown: 110 and 80 (contract
// section 6; common practice).
#include "telltale/detect/checks/oil_pressure_low.hpp"

#include "catch.hpp"
#include "judge.hpp"

namespace telltale::test {
namespace {

constexpr const char* kSlug = "oil-pressure-low";

MadeRun low(double kpa, double s = 60.0, const Plate& plate = {}) {
  MadeRun run = usual_run(20.0, plate);
  run.fault(Channel::oil_pressure, during(800.0, s, to(kpa)));
  return run;
}
Severity severity(double kpa, const Plate& plate = {}) {
  return judge(low(kpa, 60.0, plate)).severity(kSlug);
}

TEST_CASE("oil-pressure-low: limits rise with rated speed") {
  // 3600 rpm: 169.2 and 100.8; 1800 rpm: 110 and 80; 3000 rpm: 141 and 84.
  CHECK(severity(169.3) == Severity::not_judged);
  CHECK(severity(169.1) == Severity::attention);
  CHECK(severity(100.9) == Severity::attention);
  CHECK(severity(100.7) == Severity::urgent);
  const Plate slow{60.0, 4};
  CHECK(severity(110.0, slow) == Severity::not_judged);
  CHECK(severity(109.9, slow) == Severity::attention);
  CHECK(severity(80.0, slow) == Severity::attention);
  CHECK(severity(79.9, slow) == Severity::urgent);
  const Plate fifty{50.0, 2};
  CHECK(severity(141.1, fifty) == Severity::not_judged);
  CHECK(severity(140.9, fifty) == Severity::attention);
  CHECK(severity(83.9, fifty) == Severity::urgent);
}

TEST_CASE("oil-pressure-low: what is told") {
  const Outcome out = judge(low(150.0));
  REQUIRE(out.found(kSlug));
  const Told& told = *out.first(kSlug);
  CHECK(told.finding.channel == Channel::oil_pressure);
  CHECK(told.finding.unit == Unit::kPa);
  CHECK(told.finding.value == 150.0);
  CHECK(told.finding.limit == Approx(169.2));
  CHECK(told.since == 800.0);
  CHECK(told.at == Approx(803.0).margin(1.0));
}

TEST_CASE("oil-pressure-low: without rated speed 110 and 80 hold") {
  Profile profile = Plate{}.profile();
  profile.rating.frequency_hz = kUnknown;
  profile.rating.poles = 0;
  CHECK(!judge(low(111.0), profile).found(kSlug));
  CHECK(judge(low(109.0), profile).severity(kSlug) == Severity::attention);
  CHECK(judge(low(79.0), profile).severity(kSlug) == Severity::urgent);
}

TEST_CASE("oil-pressure-low: just before and just after 3 s") {
  CHECK(!judge(low(150.0, 3.0)).found(kSlug));
  CHECK(judge(low(150.0, 5.0)).found(kSlug));
}

TEST_CASE("oil-pressure-low: two readings do, one does not") {
  const auto slow = [](double s) {
    MadeRun run = usual_run(20.0).every(10.0);
    run.fault(Channel::oil_pressure, during(800.0, s, to(60.0)));
    return judge(run).severity(kSlug);
  };
  CHECK(slow(10.0) == Severity::not_judged);
  CHECK(slow(20.0) == Severity::urgent);
}

TEST_CASE("oil-pressure-low: the first 10 s after the start do not count") {
  const auto late = [](double s) {
    MadeRun run;
    run.rest(60.0).start().load(0.0, 300.0).stop();
    run.fault(Channel::oil_pressure, during(60.0, 3.0 + s, to(0.0)));
    return judge(run).found(kSlug);
  };
  CHECK(!late(9.5));
  CHECK(!late(12.0));
  CHECK(late(16.0));
}

TEST_CASE("oil-pressure-low: off nominal speed is another matter") {
  MadeRun run = low(60.0, 60.0);
  run.turn(during(790.0, 80.0, to(0.85)));
  CHECK(!judge(run).found(kSlug));
  MadeRun near = low(60.0, 60.0);
  near.turn(during(790.0, 80.0, to(0.93)));
  CHECK(judge(near).found(kSlug));
}

TEST_CASE("oil-pressure-low: running down is no finding") {
  MadeRun run;
  run.rest(60.0).start().load(0.0, 300.0).coast(30.0).rest(60.0);
  CHECK(judge(run).findings() == "");
}

// Trade fact (common practice): about 40 psi, 276 kPa, falling as the oil heats
// is no finding.
TEST_CASE("oil-pressure-low: 40 psi falling as the oil heats is none") {
  MadeRun run = usual_run(90.0);
  run.fault(Channel::oil_pressure, [](const Scene& s, double x) {
    if (x <= 0.0 || s.ran < 5.0) return x;
    return 276.0 + 2.2 * (88.0 - s.oil);
  });
  CHECK(judge(run).findings() == "");
}

TEST_CASE("oil-pressure-low: none at all is urgent until the stop") {
  const Outcome out = judge(low(0.0, 60.0));
  CHECK(out.severity(kSlug) == Severity::urgent);
  CHECK(out.last(kSlug)->finding.event == FindingEvent::closed);
}

TEST_CASE("oil-pressure-low: a log that begins running is judged at once") {
  MadeRun run;
  run.load(50.0, 120.0);
  run.fault(Channel::oil_pressure, during(2.0, 60.0, to(60.0)));
  const Outcome out = judge(run);
  CHECK(out.severity(kSlug) == Severity::urgent);
  CHECK(out.first(kSlug)->since == Approx(2.0).margin(1.0));
}

TEST_CASE("oil-pressure-low: a profile changes the limits") {
  const Profile profile = with_limit(Plate{}.profile(), kSlug,
                                     {.attention = 200.0F, .urgent = 120.0F});
  CHECK(judge(low(190.0), profile).severity(kSlug) == Severity::attention);
  CHECK(judge(low(115.0), profile).severity(kSlug) == Severity::urgent);
}

}  // namespace
}  // namespace telltale::test
