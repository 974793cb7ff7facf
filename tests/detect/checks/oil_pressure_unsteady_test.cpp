// oil-pressure-unsteady: flutter at steady speed, sd over 60 s with the trend
// removed; attention > 5 % of the mean for 60 s (contract section 6).
#include "telltale/detect/checks/oil_pressure_unsteady.hpp"

#include <cmath>

#include "catch.hpp"
#include "judge.hpp"

namespace telltale::test {
namespace {

constexpr const char* kSlug = "oil-pressure-unsteady";

/// A sine whose sd is `pct` of the pressure, for `s` seconds from 900 s on.
MadeRun fluttering(double pct, double s = 400.0, double interval = 1.0) {
  MadeRun run = usual_run(30.0).every(interval);
  run.fault(Channel::oil_pressure, [=](const Scene& scene, double x) {
    const bool now = scene.t >= 900.0 && scene.t < 900.0 + s;
    return now ? x * (1.0 +
                      std::sqrt(2.0) * pct / 100.0 * std::sin(scene.t * 1.9))
               : x;
  });
  return run;
}

TEST_CASE("oil-pressure-unsteady: beyond 5 % of the mean") {
  CHECK(judge(fluttering(4.7)).findings() == "");
  const Outcome out = judge(fluttering(5.6));
  CHECK(out.findings() == "oil-pressure-unsteady attention");
  const Told& told = *out.last(kSlug);
  CHECK(told.finding.channel == Channel::oil_pressure);
  CHECK(told.finding.unit == Unit::pct);
  CHECK(told.finding.limit == 5.0);
  CHECK(told.finding.value == Approx(5.6).margin(0.3));
  CHECK(out.first(kSlug)->since == Approx(900.0).margin(40.0));
  CHECK(told.until == Approx(1300.0).margin(40.0));
}

TEST_CASE("oil-pressure-unsteady: it must last") {
  CHECK(judge(fluttering(9.0, 40.0)).findings() == "");
  CHECK(judge(fluttering(9.0, 150.0)).found(kSlug));
}

TEST_CASE("oil-pressure-unsteady: a trend is no flutter") {
  MadeRun run = usual_run(30.0);
  run.fault(Channel::oil_pressure, creeping(900.0, 200.0, -120.0));
  CHECK(!judge(run).found(kSlug));
}

TEST_CASE("oil-pressure-unsteady: one step is no flutter") {
  MadeRun run = usual_run(30.0);
  run.fault(Channel::oil_pressure, since(1000.0, by(-90.0)));
  CHECK(!judge(run).found(kSlug));
}

TEST_CASE("oil-pressure-unsteady: toggling coarse steps are no flutter") {
  // A column in whole bar while the pressure sits between 2 and 3 bar.
  MadeRun run = usual_run(30.0);
  run.fault(Channel::oil_pressure,
            [](const Scene& s, double x) {
              return s.stage == Stage::run ? 250.0 + 5.0 * std::sin(s.t * 1.9)
                                           : x;
            })
      .resolution(Channel::oil_pressure, 100.0);
  CHECK(!judge(run).found(kSlug));
}

TEST_CASE("oil-pressure-unsteady: not while running up or stopping") {
  MadeRun run;
  run.rest(60.0).start().load(0.0, 25.0).coast(25.0).rest(60.0);
  run.fault(Channel::oil_pressure, [](const Scene& s, double x) {
    return x * (1.0 + 0.3 * std::sin(s.t * 1.9));
  });
  CHECK(!judge(run).found(kSlug));
}

TEST_CASE("oil-pressure-unsteady: at 5 s too, not beyond 10 s") {
  CHECK(judge(fluttering(8.0, 400.0, 5.0)).found(kSlug));
  const Outcome out = judge(fluttering(8.0, 400.0, 20.0));
  CHECK(!out.found(kSlug));
  CHECK(out.blind(kSlug) == Blind::interval_too_long);
}

TEST_CASE("oil-pressure-unsteady: a profile changes the limit") {
  CHECK(judge(fluttering(6.0),
              with_limit(Plate{}.profile(), kSlug, {.attention = 8.0F}))
            .findings() == "");
}

}  // namespace
}  // namespace telltale::test
