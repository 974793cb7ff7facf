// What stands open: told when it opens and worsens, remembered at its worst,
// closed by the check, by quiet or by the end of the run.
#include "telltale/detect/ledger.hpp"

#include <vector>

#include "catch.hpp"

namespace telltale {
namespace {

TimeMs at(double s) { return {static_cast<std::int64_t>(s * 1000.0)}; }

template <class R>
struct Told {
  std::vector<Finding<R>> findings;
  FindingSink<R> sink{[](void* self, const Finding<R>& finding) {
                        static_cast<Told*>(self)->findings.push_back(finding);
                      },
                      this};
};

TEMPLATE_TEST_CASE("ledger: holds the worst until it is closed", "", double,
                   float) {
  using R = TestType;
  Told<R> told;
  Ledger<R> ledger;
  const auto hold = [&](double s, Severity severity, R value) {
    ledger.direct(&told.sink, at(s));
    ledger.hold({7, Channel::frequency, Unit::Hz, severity}, {at(s), at(s)},
                value, R(5));
  };
  ledger.number(3);
  hold(10, Severity::attention, R(6));
  hold(20, Severity::attention, R(9));
  hold(30, Severity::urgent, R(8));
  REQUIRE(told.findings.size() == 2);
  CHECK(told.findings[0].event == FindingEvent::opened);
  CHECK(told.findings[0].run == 3);
  CHECK(told.findings[1].event == FindingEvent::worsened);
  CHECK(ledger.holds(7));
  CHECK(ledger.held(7).severity == Severity::urgent);
  // Quiet for less than was asked, then for more.
  ledger.direct(&told.sink, at(100));
  ledger.close_after(7, at(85), seconds(60));
  CHECK(told.findings.size() == 2);
  ledger.close_after(7, at(100), seconds(60));
  REQUIRE(told.findings.size() == 3);
  const Finding<R>& closed = told.findings[2];
  CHECK(closed.event == FindingEvent::closed);
  CHECK(closed.severity == Severity::urgent);
  CHECK(closed.value == R(8));
  CHECK(closed.since == at(30));
  CHECK(closed.until == at(30));
  CHECK(!ledger.holds(7));
  // Nothing is held, nothing is told.
  ledger.close(7, at(101));
  ledger.close_all(at(101));
  CHECK(told.findings.size() == 3);
}

TEMPLATE_TEST_CASE("ledger: watches values of one check side by side", "",
                   double, float) {
  using R = TestType;
  Told<R> told;
  Ledger<R> ledger;
  Moment<R> m;
  m.interval = seconds(1);
  const auto rule = LatchRule<R>::of({.attention = level(100, 10)}, R(1));
  const auto watch = [&](double s, R value, Channel channel,
                         std::uint8_t place) {
    m.at = at(s);
    ledger.direct(&told.sink, at(s));
    ledger.watch(m, {8, channel, Unit::V}, value, rule, {}, place);
  };
  CHECK(!ledger.minds(8, R(90), rule.edge(), Side::above));
  for (int s = 0; s <= 20; ++s) {
    watch(s, R(120), Channel::voltage_l1, 0);
    watch(s, s < 5 ? R(120) : R(90), Channel::voltage_l2, 1);
  }
  // One of the two has stood long enough; the other was forgotten.
  REQUIRE(told.findings.size() == 1);
  CHECK(told.findings[0].channel == Channel::voltage_l1);
  CHECK(told.findings[0].since == at(0));
  // While one is watched every value of the check is worth a look.
  CHECK(ledger.minds(8, R(90), rule.edge(), Side::above));
  CHECK(!ledger.minds(9, R(90), rule.edge(), Side::above));
  ledger.close_all(at(20));
  REQUIRE(told.findings.size() == 2);
  CHECK(told.findings[1].event == FindingEvent::closed);
  CHECK(told.findings[1].value == R(120));
  CHECK(!ledger.minds(8, R(90), rule.edge(), Side::above));
}

TEMPLATE_TEST_CASE("ledger: counts the checks that it has no room for", "",
                   double, float) {
  using R = TestType;
  constexpr std::size_t kWatches = room<R>(64, 12);
  Told<R> told;
  Ledger<R> ledger;
  Moment<R> m;
  m.interval = seconds(1);
  m.at = at(0);
  ledger.direct(&told.sink, at(0));
  const auto rule = LatchRule<R>::of({.attention = level(100, 10)}, R(1));
  const auto watch = [&](std::size_t i, R value) {
    const auto check = static_cast<std::uint8_t>(i / 4);
    const auto place = static_cast<std::uint8_t>(i % 4);
    ledger.watch(m, {check, Channel::voltage_l1, Unit::V}, value, rule, {},
                 place);
  };
  const auto hold = [&](std::size_t i) {
    ledger.hold({static_cast<std::uint8_t>(i), Channel::frequency, Unit::Hz,
                 Severity::note},
                {at(0), at(0)}, R(6), R(5));
  };
  for (std::size_t i = 0; i < kWatches; ++i) watch(i, R(120));
  CHECK(ledger.untold() == 0);
  // What is within its limits needs no room.
  watch(kWatches, R(90));
  CHECK(ledger.untold() == 0);
  // Two values of one check, time and again.
  for (int again = 0; again < 3; ++again) {
    watch(kWatches, R(120));
    watch(kWatches + 1, R(120));
  }
  CHECK(ledger.untold() == 1);

  // The host has a place for every check that there can be.
  constexpr std::size_t kHeld = room<R>(Ledger<R>::kMostId, 10);
  for (std::size_t i = 0; i < kHeld; ++i) hold(i);
  CHECK(ledger.untold() == 1);
  CHECK(told.findings.size() == kHeld);
  hold(kHeld);
  CHECK(ledger.untold() == (kOnBox<R> ? 2 : 1));
  CHECK(told.findings.size() == (kOnBox<R> ? kHeld : kHeld + 1));
  ledger.close_all(at(1));
  CHECK(ledger.untold() == 0);
}

}  // namespace
}  // namespace telltale
