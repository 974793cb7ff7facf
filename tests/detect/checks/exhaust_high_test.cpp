// exhaust-high: wet attention 75 degC, urgent 95; dry attention 550, urgent 650
// (contract section 6).
#include "telltale/detect/checks/exhaust_high.hpp"

#include <algorithm>

#include "catch.hpp"
#include "judge.hpp"

namespace telltale::test {
namespace {

constexpr const char* kSlug = "exhaust-high";

/// Creeps to that temperature and stays; slowly enough to be no jump.
MadeRun hot(double celsius, bool dry = false) {
  MadeRun run = usual_run(60.0);
  if (dry) {
    run.fault(Channel::exhaust_temperature, [](const Scene& s, double x) {
      return s.ran > 0.0 ? 300.0 + 1.5 * x : 30.0;
    });
  }
  run.fault(Channel::exhaust_temperature, [=](const Scene& s, double x) {
    const double share = std::min(1.0, std::max(0.0, (s.t - 900.0) / 900.0));
    const bool over = s.t > 2200.0;
    return over ? x : x + (celsius - x) * share;
  });
  return run;
}
Severity severity(double celsius, Exhaust kind) {
  const MadeRun run = hot(celsius, kind == Exhaust::dry);
  Profile profile = run.plate().profile();
  profile.rating.exhaust = kind;
  return judge(run, profile).severity(kSlug);
}

TEST_CASE("exhaust-high: wet limits") {
  CHECK(severity(75.0, Exhaust::wet) == Severity::not_judged);
  CHECK(severity(75.2, Exhaust::wet) == Severity::attention);
  CHECK(severity(95.0, Exhaust::wet) == Severity::attention);
  CHECK(severity(95.2, Exhaust::wet) == Severity::urgent);
}

TEST_CASE("exhaust-high: dry limits") {
  CHECK(severity(550.0, Exhaust::dry) == Severity::not_judged);
  CHECK(severity(551.0, Exhaust::dry) == Severity::attention);
  CHECK(severity(650.0, Exhaust::dry) == Severity::attention);
  CHECK(severity(651.0, Exhaust::dry) == Severity::urgent);
}

TEST_CASE("exhaust-high: what is told, and the delay") {
  MadeRun run = usual_run(20.0);
  run.fault(Channel::exhaust_temperature, during(900.0, 60.0, to(76.0)));
  const Outcome out = judge(run);
  const Told& told = *out.first(kSlug);
  CHECK(told.finding.channel == Channel::exhaust_temperature);
  CHECK(told.finding.unit == Unit::degC);
  CHECK(told.finding.value == 76.0);
  CHECK(told.finding.limit == 75.0);
  CHECK(told.since == 900.0);
  MadeRun brief = usual_run(20.0);
  brief.fault(Channel::exhaust_temperature, during(900.0, 9.0, to(76.0)));
  CHECK(!judge(brief).found(kSlug));
}

TEST_CASE("exhaust-high: hot after the stop does not count") {
  MadeRun run = usual_run(20.0);
  run.rest(600.0).fault(Channel::exhaust_temperature,
                        since(run.now() - 620.0, to(90.0)));
  CHECK(!judge(run).found(kSlug));
}

TEST_CASE("exhaust-high: a profile changes a limit") {
  MadeRun run = usual_run(20.0);
  run.fault(Channel::exhaust_temperature, during(900.0, 60.0, to(72.0)));
  CHECK(judge(run, with_limit(Plate{}.profile(), kSlug, {.attention = 70.0F}))
            .severity(kSlug) == Severity::attention);
}

}  // namespace
}  // namespace telltale::test
