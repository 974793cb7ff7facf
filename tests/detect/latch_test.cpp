// Delays counted in time, not in samples; two severities; hysteresis.
#include "telltale/detect/latch.hpp"

#include "catch.hpp"

namespace telltale {
namespace {

constexpr DurationMs kForget = minutes(2);
TimeMs at(double s) { return {static_cast<std::int64_t>(s * 1000.0)}; }

LatchRule<double> rule_above(float low, std::uint32_t low_s, float high,
                             std::uint32_t high_s) {
  return LatchRule<double>::of(
      {.attention = level(low, low_s), .urgent = level(high, high_s)}, 0.5);
}

/// Readings every `step` seconds from `from` on; the first change and when.
struct Fed {
  LatchChange change = LatchChange::none;
  double when = -1.0;
};
Fed feed(Latch<double>& latch, const LatchRule<double>& rule, double from,
         double seconds, double step, double value) {
  for (double t = from; t < from + seconds - 1e-9; t += step) {
    const LatchChange change = latch.step(at(t), value, rule, kForget);
    if (change != LatchChange::none) return {change, t};
  }
  return {};
}

TEST_CASE("delay timer: time decides, whatever the interval") {
  for (const double step : {0.1, 1.0, 5.0, 10.0}) {
    INFO(step);
    DelayTimer timer;
    double reached = -1.0;
    for (double t = 0.0; t <= 60.0 && reached < 0; t += step) {
      timer.step(at(t), seconds(static_cast<std::int64_t>(step)), true,
                 seconds(30));
      if (timer.reached(at(t), seconds(30), 3)) reached = t;
    }
    CHECK(reached == Approx(30.0));
    CHECK(timer.since(at(40.0)) == at(0.0));
  }
}

TEST_CASE("delay timer: no single reading will do, however long the interval") {
  DelayTimer timer;
  timer.step(at(0), {}, true, seconds(30));
  CHECK(!timer.reached(at(600), seconds(30), 3));
  timer.step(at(60), seconds(60), true, seconds(30));
  CHECK(!timer.reached(at(60), seconds(30), 3));
  timer.step(at(120), seconds(60), true, seconds(30));
  CHECK(timer.reached(at(120), seconds(30), 3));
}

TEST_CASE("latch: opens after the delay, since the first reading beyond") {
  Latch<double> latch;
  const auto rule = rule_above(100, 30, 120, 10);
  CHECK(feed(latch, rule, 0, 50, 1, 99.0).when < 0);
  const Fed fed = feed(latch, rule, 50, 60, 1, 101.0);
  CHECK(fed.change == LatchChange::opened);
  CHECK(fed.when == 80.0);
  CHECK(latch.span(at(80)).since == at(50));
  CHECK(latch.span(at(80)).until == at(80));
  CHECK(latch.state() == Severity::attention);
  CHECK(latch.limit() == 100.0);
  CHECK(latch.worst() == 101.0);
}

TEST_CASE("latch: exactly at the limit is inside") {
  Latch<double> latch;
  CHECK(feed(latch, rule_above(100, 5, 120, 5), 0, 600, 1, 100.0).when < 0);
}

TEST_CASE("latch: worsens, and the severity begins where it was passed") {
  Latch<double> latch;
  const auto rule = rule_above(100, 30, 120, 10);
  CHECK(feed(latch, rule, 0, 60, 1, 110.0).change == LatchChange::opened);
  const Fed fed = feed(latch, rule, 31, 60, 1, 125.0);
  CHECK(fed.change == LatchChange::worsened);
  CHECK(fed.when == 41.0);
  CHECK(latch.span(at(41)).since == at(31));
  CHECK(latch.limit() == 120.0);
}

TEST_CASE("latch: closes beyond the deadband for the delay, not before") {
  Latch<double> latch;
  const auto rule = rule_above(100, 30, 120, 10);
  feed(latch, rule, 0, 60, 1, 110.0);
  // Inside the limit but within the deadband: stands.
  CHECK(feed(latch, rule, 31, 600, 1, 99.7).when < 0);
  const Fed fed = feed(latch, rule, 631, 600, 1, 99.0);
  CHECK(fed.change == LatchChange::closed);
  CHECK(fed.when == Approx(660.0).margin(1.5));
}

TEST_CASE("latch: a gap restarts what is pending and leaves what stands") {
  Latch<double> pending;
  const auto rule = rule_above(100, 30, 120, 10);
  CHECK(feed(pending, rule, 0, 20, 1, 110.0).when < 0);
  const Fed fed = feed(pending, rule, 400, 60, 1, 110.0);
  CHECK(fed.when == 430.0);
  Latch<double> stands;
  feed(stands, rule, 0, 60, 1, 110.0);
  CHECK(feed(stands, rule, 4000, 100, 1, 110.0).when < 0);
  CHECK(stands.standing());
}

TEST_CASE("latch: a value that is no number is never beyond") {
  Latch<double> latch;
  const auto rule = rule_above(100, 5, 120, 5);
  CHECK(feed(latch, rule, 0, 60, 1, Finding<double>::kNone).when < 0);
  LatchRule<double> none = rule;
  none.low.limit = none.high.limit = kUnknown;
  CHECK(feed(latch, none, 60, 60, 1, 1e9).when < 0);
}

TEST_CASE("latch: below works as above does") {
  Latch<double> latch;
  auto rule = LatchRule<double>::of({.attention = level(13.0F, 30),
                                     .urgent = level(12.4F, 10),
                                     .side = Side::below},
                                    0.05);
  CHECK(feed(latch, rule, 0, 60, 1, 13.0).when < 0);
  const Fed fed = feed(latch, rule, 100, 60, 1, 12.0);
  CHECK(fed.change == LatchChange::opened);
  CHECK(fed.when == 110.0);
  CHECK(latch.state() == Severity::urgent);
}

}  // namespace
}  // namespace telltale
