// coolant-climb: still climbing after the thermostat was once found (rate below
// 0.1 degC/min), at comparable load throughout, whole window above 80 degC (sea
// water 60); attention > 0.3 degC/min over 10 min (contract section 6).
#include "telltale/detect/checks/coolant_climb.hpp"

#include "catch.hpp"
#include "judge.hpp"

namespace telltale::test {
namespace {

constexpr const char* kSlug = "coolant-climb";

/// An hour and a half at 60 %, climbing by `rate` a minute for `s` seconds
/// from 3600 s on.
MadeRun climbing(double rate, double s = 1500.0) {
  MadeRun run = usual_run(80.0);
  run.fault(Channel::coolant_temperature, creeping(3600.0, s, rate * s / 60.0));
  return run;
}

TEST_CASE("coolant-climb: beyond 0.3 degC a minute") {
  CHECK(judge(climbing(0.27)).findings() == "");
  const Outcome out = judge(climbing(0.36));
  CHECK(out.findings() == "coolant-climb attention");
  const Told& told = *out.last(kSlug);
  CHECK(told.finding.channel == Channel::coolant_temperature);
  CHECK(told.finding.unit == Unit::K_per_min);
  CHECK(told.finding.limit == Approx(0.3));
  CHECK(told.finding.value == Approx(0.36).margin(0.02));
  CHECK(out.first(kSlug)->since == Approx(3600.0).margin(200.0));
}

TEST_CASE("coolant-climb: the time to the limit is told") {
  const Outcome out = judge(climbing(0.36));
  const Finding<double>& finding = out.first(kSlug)->finding;
  const auto& detail = finding.detail;
  // From where it stands to 95 degC at that rate.
  CHECK(detail[1] == Approx((95.0 - detail[0]) / finding.value));
  CHECK(detail[2] == 95.0);
}

TEST_CASE("coolant-climb: 1.8 degC in ten minutes are not 3") {
  CHECK(judge(climbing(0.36, 300.0)).findings() == "");
}

// A least-squares slope makes half as much again of a step: 2.5 degC within 10
// min, and then level, are 0.25 degC a minute and no climb that goes on.
TEST_CASE("coolant-climb: a small lasting step is no climb") {
  CHECK(judge(climbing(0.5, 300.0)).findings() == "");
  CHECK(judge(climbing(2.4, 60.0)).findings() == "");
}

TEST_CASE("coolant-climb: warming up is no climb") {
  // Slow to warm: 0.5 degC a minute for an hour and a half.
  MadeRun run = usual_run(100.0);
  run.fault(Channel::coolant_temperature, [](const Scene& s, double) {
    return s.ran > 0.0 ? 40.0 + s.ran / 120.0 : 40.0;
  });
  CHECK(!judge(run).found(kSlug));
}

TEST_CASE("coolant-climb: a changed load explains a climb") {
  MadeRun run;
  run.rest(60.0).start().warm().load(30.0, 2400.0).load(60.0, 590.0);
  run.load(30.0, 590.0).load(60.0, 590.0).stop();
  run.fault(Channel::coolant_temperature, creeping(2800.0, 1800.0, 12.0));
  CHECK(!judge(run).found(kSlug));
}

TEST_CASE("coolant-climb: below 80 degC it is none, sea water from 60 on") {
  const auto at = [](double level, Cooling cooling) {
    MadeRun run = climbing(0.4);
    run.fault(Channel::coolant_temperature,
              [=](const Scene&, double x) { return x - 84.0 + level; });
    Profile profile = run.plate().profile();
    profile.rating.cooling = cooling;
    return judge(run, profile).found(kSlug);
  };
  CHECK(!at(68.0, Cooling::fresh_water));
  CHECK(at(84.0, Cooling::fresh_water));
  CHECK(!at(48.0, Cooling::sea_water));
  CHECK(at(61.0, Cooling::sea_water));
}

TEST_CASE("coolant-climb: whole degrees do not hide it") {
  CHECK(judge(climbing(0.45).resolution(Channel::coolant_temperature, 1.0))
            .found(kSlug));
}

TEST_CASE("coolant-climb: blind in a run that never settles") {
  const Outcome out = judge(usual_run(3.0));
  CHECK(out.judged(kSlug) == 0);
  CHECK(out.blind(kSlug) == Blind::never_settled);
}

TEST_CASE("coolant-climb: seen at 30 s as well") {
  CHECK(judge(climbing(0.4).every(30.0)).findings() ==
        "coolant-climb attention");
}

TEST_CASE("coolant-climb: a profile changes the limit") {
  CHECK(judge(climbing(0.36),
              with_limit(Plate{}.profile(), kSlug, {.attention = 0.5F}))
            .findings() == "");
}

}  // namespace
}  // namespace telltale::test
