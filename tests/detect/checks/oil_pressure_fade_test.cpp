// oil-pressure-fade: pressure against the line that temperature and speed
// explain; attention 10 % below, urgent 25 %, sustained 5 min; no verdict more
// than 5 K beyond the fitted range unless the line is the unit's own (contract
// section 6; ASTM D341).
#include "telltale/detect/checks/oil_pressure_fade.hpp"

#include <cmath>

#include "catch.hpp"
#include "judge.hpp"

namespace telltale::test {
namespace {

constexpr const char* kSlug = "oil-pressure-fade";

/// Three hours at 60 %, the pressure fading by `pct` over half an hour from
/// two hours on.
MadeRun fading(double pct, double from = 7200.0, double over = 1800.0) {
  MadeRun run;
  run.every(2.0).rest(60.0).crank(4.0).run_up(4.0).warm();
  run.load(60.0, 11000.0).stop();
  run.fault(Channel::oil_pressure, [=](const Scene& s, double x) {
    double share = (s.t - from) / over;
    share = share < 0.0 ? 0.0 : share > 1.0 ? 1.0 : share;
    return x * (1.0 - pct / 100.0 * share);
  });
  return run;
}

TEST_CASE("oil-pressure-fade: warming up is no fade") {
  // From 20 to 94 degC the pressure falls by more than half.
  CHECK(judge(fading(0.0)).findings() == "");
  CHECK(judge(fading(0.0).without(Channel::oil_temperature)).findings() == "");
}

TEST_CASE("oil-pressure-fade: 10 % and 25 % below the run's own line") {
  CHECK(judge(fading(8.0)).findings() == "");
  CHECK(judge(fading(13.0)).findings() == "oil-pressure-fade attention");
  CHECK(judge(fading(22.0)).findings() == "oil-pressure-fade attention");
  CHECK(judge(fading(29.0)).severity(kSlug) == Severity::urgent);
}

TEST_CASE("oil-pressure-fade: what is told") {
  const Outcome out = judge(fading(15.0));
  REQUIRE(out.found(kSlug));
  const Told& told = *out.last(kSlug);
  CHECK(told.finding.channel == Channel::oil_pressure);
  CHECK(told.finding.unit == Unit::pct);
  CHECK(told.finding.limit == 10.0);
  CHECK(told.finding.value == Approx(15.0).margin(1.5));
  // 10 % are lost after two thirds of the half hour.
  CHECK(out.first(kSlug)->since == Approx(8400.0).margin(200.0));
  CHECK(out.first(kSlug)->at ==
        Approx(out.first(kSlug)->since + 300.0).margin(30.0));
  // Expected and measured bear the figure out.
  const auto& detail = out.first(kSlug)->finding.detail;
  CHECK(100.0 * (1.0 - detail[1] / detail[0]) ==
        Approx(out.first(kSlug)->finding.value).margin(0.01));
}

TEST_CASE("oil-pressure-fade: five minutes, not four") {
  const auto dip = [](double s) {
    MadeRun run = fading(0.0);
    run.fault(Channel::oil_pressure, during(8000.0, s, times(0.8)));
    return judge(run).found(kSlug);
  };
  CHECK(!dip(240.0));
  CHECK(dip(360.0));
}

TEST_CASE("oil-pressure-fade: a set's own line needs no learning") {
  Profile profile = Plate{}.profile();
  // The made set's pressure at 60 % is (150 + 140 log10 v) * 1.012; the line is
  // over the table's oil, near enough at 90 degC: 150 + 140 * 1.06.
  profile.oil_line = {.known = true,
                      .by_coolant = false,
                      .intercept_kpa = 160.0F,
                      .slope_kpa = 125.0F,
                      .low_degc = 60.0F,
                      .high_degc = 95.0F};
  MadeRun run = fading(0.0);
  const Outcome healthy = judge(run, profile);
  CHECK(!healthy.found(kSlug));
  CHECK(healthy.judged(kSlug) > 0);
  // A fade that was there from the very start only shows that way.
  MadeRun worn = fading(0.0);
  worn.fault(Channel::oil_pressure,
             [](const Scene&, double x) { return x * 0.8; });
  CHECK(!judge(worn).found(kSlug));
  CHECK(judge(worn, profile).severity(kSlug) == Severity::attention);
}

TEST_CASE("oil-pressure-fade: no verdict far beyond the learnt temperatures") {
  // The oil heats by another 15 K late in the run: pressure falls with it.
  MadeRun run = fading(0.0);
  run.fault(Channel::oil_temperature, creeping(8000.0, 900.0, 15.0))
      .fault(Channel::oil_pressure, creeping(8000.0, 900.0, -70.0));
  CHECK(!judge(run).found(kSlug));
}

TEST_CASE("oil-pressure-fade: speed explains its part") {
  // A governor that falls by 4 % takes 4 % of the pressure with it.
  MadeRun run = fading(0.0);
  run.turn(creeping(7200.0, 600.0, -0.04));
  CHECK(!judge(run).found(kSlug));
}

TEST_CASE("oil-pressure-fade: a run too short has nothing to compare with") {
  const Outcome out = judge(usual_run(5.0));
  CHECK(!out.found(kSlug));
  CHECK(out.blind(kSlug) == Blind::no_baseline);
}

TEST_CASE("oil-pressure-fade: by the coolant where that is all there is") {
  CHECK(judge(fading(15.0).without(Channel::oil_temperature)).found(kSlug));
}

TEST_CASE("oil-pressure-fade: load steps of a healthy set are no fade") {
  MadeRun run;
  run.every(2.0).rest(60.0).crank(4.0).run_up(4.0).warm();
  for (int i = 0; i < 9; ++i) run.load(20.0, 600.0).load(90.0, 600.0);
  CHECK(!judge(run.stop()).found(kSlug));
  run.without(Channel::oil_temperature);
  CHECK(!judge(run).found(kSlug));
}

TEST_CASE("oil-pressure-fade: a profile changes the limits") {
  CHECK(judge(fading(15.0),
              with_limit(Plate{}.profile(), kSlug, {.attention = 20.0F}))
            .findings() == "");
}

TEST_CASE("oil-pressure-fade: a gap in the middle neither makes nor hides it") {
  MadeRun quiet = fading(0.0);
  CHECK(judge(quiet.gap(5000.0, 5500.0)).findings() == "data-gap note");
  MadeRun ill = fading(15.0);
  CHECK(judge(ill.gap(5000.0, 5500.0)).found(kSlug));
}

}  // namespace
}  // namespace telltale::test
