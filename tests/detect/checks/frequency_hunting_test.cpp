// frequency-hunting: envelope width over 30 s in % of rated, full width;
// attention > 2.5 % (class G2 1.5, G3 0.5), urgent > 5 %, at least 3 reversals
// larger than a third of it, never below 3 steps of the column's resolution
// (contract section 6; ISO 8528-5 steady-state frequency band).
#include "telltale/detect/checks/frequency_hunting.hpp"

#include <cmath>

#include "catch.hpp"
#include "judge.hpp"

namespace telltale::test {
namespace {

constexpr const char* kSlug = "frequency-hunting";
constexpr double kTwoPi = 6.283185307179586;

/// Swings `width_pct` wide with that period for `s` seconds.
MadeRun hunting(double width_pct, double s, double period = 4.3,
                const Plate& plate = {}) {
  MadeRun run = usual_run(20.0, plate);
  run.turn([=](const Scene& scene, double healthy) {
    const bool now = scene.t >= 600.0 && scene.t < 600.0 + s;
    const double swing = std::sin(kTwoPi * scene.t / period);
    return now ? healthy + width_pct / 200.0 * swing : healthy;
  });
  return run;
}
Profile of_class(PerformanceClass performance) {
  Profile profile = Plate{}.profile();
  profile.rating.performance = performance;
  return profile;
}

TEST_CASE("frequency-hunting: each class has its band") {
  const auto severity = [](double width, PerformanceClass performance) {
    return judge(hunting(width, 120.0).every(0.5), of_class(performance))
        .severity(kSlug);
  };
  CHECK(severity(2.4, PerformanceClass::G1) == Severity::not_judged);
  CHECK(severity(2.7, PerformanceClass::G1) == Severity::attention);
  CHECK(severity(1.4, PerformanceClass::G2) == Severity::not_judged);
  CHECK(severity(1.7, PerformanceClass::G2) == Severity::attention);
  CHECK(severity(0.45, PerformanceClass::G3) == Severity::not_judged);
  CHECK(severity(0.60, PerformanceClass::G3) == Severity::attention);
  CHECK(severity(4.9, PerformanceClass::G2) == Severity::attention);
  CHECK(severity(5.4, PerformanceClass::G2) == Severity::urgent);
}

TEST_CASE("frequency-hunting: value, limit, channel and time are told") {
  const Outcome out = judge(hunting(3.0, 120.0).every(0.5));
  CHECK(out.findings() == "frequency-hunting attention");
  const Told& told = *out.last(kSlug);
  CHECK(told.finding.channel == Channel::frequency);
  CHECK(told.finding.unit == Unit::pct);
  CHECK(told.finding.limit == 1.5);
  CHECK(told.finding.value == Approx(3.0).margin(0.1));
  CHECK(out.first(kSlug)->since >= 570.0);
  CHECK(out.first(kSlug)->since < 630.0);
  CHECK(out.first(kSlug)->at < 640.0);
  CHECK(told.until == Approx(730.0).margin(20.0));
}

TEST_CASE("frequency-hunting: seen at 1 s and 2 s too") {
  for (const double interval : {1.0, 2.0}) {
    CHECK(judge(hunting(3.0, 300.0, 7.3).every(interval)).severity(kSlug) ==
          Severity::attention);
  }
}

TEST_CASE("frequency-hunting: one lasting change is no hunting") {
  MadeRun run = usual_run(20.0);
  run.turn(since(700.0, by(0.03)));
  CHECK(!judge(run).found(kSlug));
  MadeRun there_and_back = usual_run(20.0);
  there_and_back.turn(during(700.0, 12.0, by(0.03)));
  CHECK(!judge(there_and_back).found(kSlug));
}

TEST_CASE("frequency-hunting: two reversals are not enough, four are") {
  const auto with = [](int humps) {
    MadeRun run = usual_run(20.0).every(0.5);
    for (int i = 0; i < humps; ++i) {
      run.turn(during(700.0 + 12.0 * i, 6.0, by(0.03)));
    }
    return judge(run).found(kSlug);
  };
  CHECK(!with(1));
  CHECK(with(4));
}

TEST_CASE("frequency-hunting: load steps are no hunting") {
  MadeRun run;
  run.droop(5.0).rest(60.0).start();
  for (int i = 0; i < 30; ++i) run.load(30.0, 20.0).load(70.0, 20.0);
  CHECK(!judge(run.stop()).found(kSlug));
}

TEST_CASE("frequency-hunting: resolution is no hunting") {
  // A column of half hertz that toggles between two and three of its steps.
  MadeRun run = usual_run(20.0);
  run.fault(Channel::frequency,
            [](const Scene& s, double x) {
              return s.stage == Stage::run ? x + 0.5 * std::sin(s.t * 1.7) : x;
            })
      .resolution(Channel::frequency, 0.5);
  CHECK(!judge(run, of_class(PerformanceClass::G3)).found(kSlug));
}

// A set that wanders by 0.2 Hz, within the 0.3 Hz of class G3, and two loads
// that came and went, each seen in one reading: 0.4 Hz in all.
TEST_CASE("frequency-hunting: one reading at either end is no hunting") {
  MadeRun run = usual_run(20.0);
  run.turn([](const Scene& scene, double healthy) {
    const int t = static_cast<int>(scene.t);
    if (t < 880 || t > 950) return healthy;
    const double hz = t == 905   ? -0.2
                      : t == 925 ? 0.2
                                 : (t / 3 % 2 == 0 ? 0.1 : -0.1);
    return healthy + hz / 60.0;
  });
  CHECK(!judge(run.every(1.0), of_class(PerformanceClass::G3)).found(kSlug));
}

TEST_CASE("frequency-hunting: a steep swing counts in coarse steps as well") {
  CHECK(
      judge(hunting(4.0, 120.0).every(0.5).resolution(Channel::frequency, 0.5))
          .severity(kSlug) == Severity::attention);
}

// What the check promises of itself: speed must swing along. A correlation of
// 0.3 over 30 readings comes about by chance in every twentieth window, and
// every run has hundreds of them.
TEST_CASE(
    "frequency-hunting: a swing that speed does not share is the "
    "sensor's") {
  MadeRun run = usual_run(20.0);
  run.noise(Channel::engine_speed, 3.0, 5)
      .fault(Channel::frequency, [](const Scene& s, double x) {
        return s.stage == Stage::run ? x + 0.9 * std::sin(s.t * 1.7) : x;
      });
  CHECK(!judge(run).found(kSlug));
}

TEST_CASE("frequency-hunting: not observable at long intervals") {
  const Outcome out = judge(hunting(3.0, 600.0).every(10.0));
  CHECK(!out.found(kSlug));
  CHECK(out.blind(kSlug) == Blind::interval_too_long);
}

TEST_CASE("frequency-hunting: silent while running up and stopping") {
  MadeRun run;
  run.rest(60.0).crank(3.0).run_up(20.0).load(0.0, 60.0).load(50.0, 300.0);
  run.load(0.0, 180.0).coast(20.0).rest(30.0);
  run.turn([](const Scene& s, double x) {
    const bool moving = s.stage == Stage::run_up || s.stage == Stage::coast;
    return moving ? x + 0.03 * std::sin(s.t * 1.7) : x;
  });
  CHECK(!judge(run.every(0.5)).found(kSlug));
}

TEST_CASE("frequency-hunting: a profile changes the limit") {
  CHECK(!judge(hunting(3.0, 120.0).every(0.5),
               with_limit(Plate{}.profile(), kSlug, {.attention = 3.5F}))
             .found(kSlug));
}

TEST_CASE("frequency-hunting: 50 Hz counts in percent of 50") {
  // 1.7 % of 50 Hz is 0.85 Hz.
  const Outcome out = judge(hunting(1.7, 120.0, 4.3, kEuropean).every(0.5));
  CHECK(out.severity(kSlug) == Severity::attention);
  CHECK(out.last(kSlug)->finding.value == Approx(1.7).margin(0.1));
}

}  // namespace
}  // namespace telltale::test
