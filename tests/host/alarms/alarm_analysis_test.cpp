// The measures on lists small enough to count by hand.
#include "alarms/alarm_analysis.hpp"

#include <cmath>

#include "catch.hpp"
#include "event_list.hpp"

namespace telltale::test {
namespace {

using host::AlarmFigures;
using host::AlarmReport;

double measure(const AlarmReport& report, const std::string& id) {
  for (const host::Measure& m : report.measures) {
    if (m.id == id) return m.value;
  }
  FAIL("no measure " << id);
  return 0;
}

TEST_CASE("raises, standing time and share are counted") {
  const AlarmReport r = analyse({{10, "a"},
                                 {40, "a", kOff},
                                 {50, "b"},
                                 {100, "a"},
                                 {150, "a", kOff},
                                 {350, "b", kOff}},
                                0, 1000);
  CHECK(r.raises == 3);
  CHECK(r.span_s == 1000);
  const AlarmFigures& a = figures(r, "a");
  CHECK(a.raises == 2);
  CHECK(a.standing_s == 80);
  CHECK(a.longest_s == 50);
  CHECK(a.share == Approx(2.0 / 3.0));
  CHECK(a.per_day == Approx(2 * 86.4));
  CHECK(a.standing_share == Approx(0.08));
  CHECK(figures(r, "b").standing_s == 300);
  CHECK(r.mean_standing == Approx(0.38));
  CHECK(r.standing_at_end == 0);
  CHECK(r.verdict() == Severity::healthy);
}

// Three raises within 60 s by ISA-18.2's rule; by the index they are far from
// chatter (reference case: 0, 30, 59 s give 0.034).
TEST_CASE("screening rule and chattering index are two things") {
  const AlarmReport r = analyse({{0, "a"},
                                 {5, "a", kOff},
                                 {30, "a"},
                                 {35, "a", kOff},
                                 {59, "a"},
                                 {65, "a", kOff}},
                                0, 4000);
  const AlarmFigures& a = figures(r, "a");
  CHECK(a.chatters_by_screen);
  CHECK_FALSE(a.chatters_by_index);
  CHECK(a.chatter_index == Approx(0.034).margin(5e-4));
  CHECK(a.screen_hits == 1);
  REQUIRE(r.findings.size() == 1);
  CHECK(r.findings[0].check == "alarm-chatter");
  CHECK(r.findings[0].from.line == 2);  // the first raise of the three
}

// Two raises 20 s apart have an index of 0.05 and prove nothing.
TEST_CASE("two raises are no chatter") {
  const AlarmReport r =
      analyse({{0, "a"}, {5, "a", kOff}, {20, "a"}, {25, "a", kOff}}, 0, 500);
  CHECK(figures(r, "a").chatter_index == 0.05);
  CHECK_FALSE(figures(r, "a").chatters());
  CHECK(r.findings.empty());
}

TEST_CASE("stale is standing for more than 24 hours without a break") {
  constexpr double kDay = 86400;
  const AlarmReport r = analyse({{0, "exact"},
                                 {1, "long"},
                                 {kDay, "exact", kOff},
                                 {kDay + 2, "long", kOff}},
                                0, 2 * kDay);
  CHECK(figures(r, "exact").stale == 0);
  CHECK(figures(r, "long").stale == 1);
  CHECK(measure(r, "stale_at_once") == 1);
  REQUIRE(r.findings.size() == 1);
  CHECK(r.findings[0].check == "alarm-standing");
}

TEST_CASE("fleeting is seconds long and alone") {
  const AlarmReport r = analyse({{0, "f"},
                                 {4, "f", kOff},
                                 {500, "f"},
                                 {505, "f", kOff},
                                 {530, "f"},  // at once again: not fleeting
                                 {535, "f", kOff},
                                 {900, "g"},
                                 {960, "g", kOff}},
                                0, 2000);
  CHECK(figures(r, "f").fleeting == 1);
  CHECK(figures(r, "g").fleeting == 0);
}

TEST_CASE("an alarm told again while it stands is no new raise") {
  const AlarmReport r = analyse({{0, "a"},
                                 {10, "a", kOff},
                                 {100, "a"},
                                 {110, "a"},
                                 {120, "a"},
                                 {130, "a", kOff}});
  CHECK(figures(r, "a").raises == 2);
  CHECK(figures(r, "a").repeats == 2);
}

TEST_CASE("what went without having come stood from the beginning") {
  const AlarmReport r = analyse({{60, "a", kOff}}, 0, 100);
  CHECK(figures(r, "a").raises == 0);
  CHECK(figures(r, "a").stood_before);
  CHECK(figures(r, "a").standing_s == 60);
  CHECK(r.raises == 0);
}

TEST_CASE("without clears nothing is said of standing") {
  const AlarmReport r =
      analyse({{0, "a"}, {1000, "a"}, {2000, "a"}}, 0, 3000, false);
  CHECK(figures(r, "a").raises == 3);
  CHECK(std::isnan(figures(r, "a").standing_s));
  CHECK_FALSE(figures(r, "a").spans_known);
}

// ISA-18.2's table: 144 a day are 6 an hour and 1 in 10 min.
TEST_CASE("rates are those of the standards' table") {
  std::vector<ListedEvent> events;
  for (int i = 0; i < 144; ++i) {
    events.push_back({i * 600.0, "a"});
    events.push_back({i * 600.0 + 30, "a", kOff});
  }
  const AlarmReport r = analyse(events, 0, 86400);
  CHECK(measure(r, "raises_per_day") == Approx(144));
  CHECK(measure(r, "raises_per_hour") == Approx(6));
  CHECK(measure(r, "raises_per_10min") == Approx(1));
  for (const host::Measure& m : r.measures) {
    CHECK_FALSE(m.source.empty());
    CHECK_FALSE(m.meant_for.empty());
  }
}

TEST_CASE("an empty list gives a report without figures") {
  const AlarmReport r = analyse({});
  CHECK(r.raises == 0);
  CHECK(r.alarms.empty());
  CHECK(r.findings.empty());
}

}  // namespace
}  // namespace telltale::test
