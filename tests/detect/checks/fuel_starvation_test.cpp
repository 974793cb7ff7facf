// fuel-starvation: the speed sags by over 5 % at constant or falling load,
// three times in 5 min, or within 60 s before a stop; urgent (contract section
// 6).
#include "telltale/detect/checks/fuel_starvation.hpp"

#include "catch.hpp"
#include "judge.hpp"

namespace telltale::test {
namespace {

constexpr const char* kSlug = "fuel-starvation";

/// `n` sags of `depth` percent, `every` seconds apart, from 800 s on.
MadeRun sagging(int n, double depth, double every) {
  MadeRun run = usual_run(30.0);
  for (int i = 0; i < n; ++i) {
    run.turn(during(800.0 + every * i, 6.0, times(1.0 - depth / 100.0)));
  }
  return run;
}

TEST_CASE("fuel-starvation: three sags in 5 min, not two") {
  CHECK(!judge(sagging(2, 8.0, 60.0)).found(kSlug));
  const Outcome out = judge(sagging(3, 8.0, 60.0));
  CHECK(out.severity(kSlug) == Severity::urgent);
  const Told& told = *out.first(kSlug);
  CHECK(told.finding.channel == Channel::engine_speed);
  CHECK(told.finding.value == 3.0);
  CHECK(told.finding.limit == 3.0);
  CHECK(told.since == Approx(800.0).margin(1.0));
  CHECK(told.finding.detail[0] == Approx(8.0).margin(0.5));
}

TEST_CASE("fuel-starvation: three over more than 5 min are not enough") {
  CHECK(judge(sagging(3, 8.0, 145.0)).found(kSlug));
  CHECK(!judge(sagging(3, 8.0, 155.0)).found(kSlug));
  CHECK(!judge(sagging(6, 8.0, 155.0)).found(kSlug));
}

TEST_CASE("fuel-starvation: 5 % is the least") {
  CHECK(!judge(sagging(5, 4.6, 50.0)).found(kSlug));
  CHECK(judge(sagging(5, 5.6, 50.0)).found(kSlug));
}

TEST_CASE("fuel-starvation: load put on explains a sag") {
  MadeRun run = usual_run(30.0);
  for (int i = 0; i < 5; ++i) {
    const double at = 800.0 + 60.0 * i;
    run.turn(during(at, 6.0, times(0.92)));
    run.fault(Channel::power, during(at, 30.0, by(1.6)))
        .fault(Channel::current_l1, during(at, 30.0, by(6.7)))
        .fault(Channel::current_l2, during(at, 30.0, by(6.7)));
  }
  CHECK(!judge(run).found(kSlug));
}

TEST_CASE("fuel-starvation: falling load does not explain it") {
  MadeRun run = sagging(3, 8.0, 60.0);
  for (int i = 0; i < 3; ++i) {
    run.fault(Channel::power, during(800.0 + 60.0 * i, 6.0, by(-0.4)));
  }
  CHECK(judge(run).found(kSlug));
}

TEST_CASE("fuel-starvation: one sag within 60 s before a stop from load") {
  const auto before_stop = [](double ahead) {
    MadeRun run;
    run.rest(60.0).start().warm().load(50.0, 1204.0).coast(8.0).rest(60.0);
    run.turn(during(1600.0 - ahead, 8.0, times(0.9)));
    return judge(run);
  };
  const Outcome near = before_stop(40.0);
  CHECK(near.severity(kSlug) == Severity::urgent);
  CHECK(near.severity("abrupt-stop") == Severity::urgent);
  CHECK(!before_stop(90.0).found(kSlug));
}

TEST_CASE("fuel-starvation: a clean stop from load is no sag") {
  MadeRun run;
  run.rest(60.0).start().warm().load(50.0, 1204.0).coast(8.0).rest(60.0);
  CHECK(!judge(run).found(kSlug));
}

TEST_CASE("fuel-starvation: by frequency where no speed is logged") {
  const Outcome out =
      judge(sagging(3, 8.0, 60.0).without(Channel::engine_speed));
  CHECK(out.severity(kSlug) == Severity::urgent);
  CHECK(out.first(kSlug)->finding.channel == Channel::frequency);
}

TEST_CASE("fuel-starvation: blind at long intervals and without load") {
  const Outcome slow = judge(sagging(5, 8.0, 50.0).every(30.0));
  CHECK(!slow.found(kSlug));
  CHECK(slow.blind(kSlug) == Blind::interval_too_long);
  MadeRun run = sagging(3, 8.0, 60.0);
  run.without(Channel::power)
      .without(Channel::current_l1)
      .without(Channel::current_l2);
  const Outcome out = judge(run);
  CHECK(!out.found(kSlug));
  CHECK(out.blind(kSlug) == Blind::no_load_reading);
}

TEST_CASE("fuel-starvation: a profile changes the count") {
  CHECK(!judge(sagging(3, 8.0, 60.0),
               with_limit(Plate{}.profile(), kSlug, {.urgent = 4.0F}))
             .found(kSlug));
}

}  // namespace
}  // namespace telltale::test
