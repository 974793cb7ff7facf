// First-outs, followers and company on made-up bursts.
#include "alarms/burst_book.hpp"

#include "catch.hpp"
#include "event_list.hpp"

namespace telltale::test {
namespace {

using host::AlarmReport;

// Three times: coolant high, 8 s later the shutdown, then what follows of it.
std::vector<ListedEvent> three_trips() {
  std::vector<ListedEvent> events;
  for (int k = 0; k < 3; ++k) {
    const double t = 10'000.0 * (k + 1);
    events.push_back({t, "coolant high"});
    events.push_back({t + 8 + k, "coolant shutdown"});
    events.push_back({t + 12, "frequency low"});
    events.push_back({t + 12, "voltage low"});
    for (const char* alarm :
         {"coolant high", "coolant shutdown", "frequency low", "voltage low"}) {
      events.push_back({t + 500, alarm, kOff});
    }
  }
  return events;
}

TEST_CASE("what came first in each burst is told") {
  const AlarmReport r = analyse(three_trips(), 0, 50'000);
  CHECK(r.burst_count == 3);
  CHECK(figures(r, "coolant high").part.first == 3);
  CHECK(figures(r, "coolant shutdown").part.first == 0);
  CHECK(figures(r, "voltage low").part.in_bursts == 3);
  REQUIRE(r.bursts.size() == 3);
  CHECK(r.name(r.bursts[0].members.front().alarm).name == "coolant high");
  CHECK(r.bursts[0].seconds == 12);
  CHECK_FALSE(r.bursts[0].tied);
}

TEST_CASE("the least time to the shutdown is known") {
  const AlarmReport r = analyse(three_trips(), 0, 50'000);
  CHECK(figures(r, "coolant high").part.time_to_act_s == 8);
  CHECK(std::isnan(figures(r, "voltage low").part.time_to_act_s));
}

TEST_CASE("what follows what, with its lag and how often") {
  const AlarmReport r = analyse(three_trips(), 0, 50'000);
  bool found = false;
  for (const host::Follow& f : r.follows) {
    if (r.name(f.first).name != "coolant high" ||
        r.name(f.then).name != "coolant shutdown") {
      continue;
    }
    found = true;
    CHECK(f.times == 3);
    CHECK(f.of == 3);
    CHECK(f.least_lag_s == 8);
    CHECK(f.most_lag_s == 10);
    CHECK(f.mean_lag_s == Approx(9));
  }
  CHECK(found);
}

TEST_CASE("alarms that always come together are one group") {
  const AlarmReport r = analyse(three_trips(), 0, 50'000);
  REQUIRE(r.company.size() == 1);
  CHECK(r.company[0].alarms.size() == 4);
  CHECK(r.company[0].always);
  CHECK(r.company[0].times == 3);
}

TEST_CASE("alarms of two units do not follow each other") {
  std::vector<ListedEvent> events;
  for (int k = 0; k < 5; ++k) {
    events.push_back({1000.0 * k, "one/a"});
    events.push_back({1000.0 * k + 5, "two/b"});
    events.push_back({1000.0 * k + 50, "one/a", kOff});
    events.push_back({1000.0 * k + 55, "two/b", kOff});
  }
  const AlarmReport r = analyse(events);
  CHECK(r.burst_count == 0);
  CHECK(r.follows.empty());
  CHECK(r.units.size() == 2);
}

TEST_CASE("alarms at the same stamp share the first place") {
  const AlarmReport r =
      analyse({{0, "a"}, {0, "b"}, {5, "c"}, {90, "a", kOff}}, 0, 200);
  REQUIRE(r.bursts.size() == 1);
  CHECK(r.bursts[0].tied);
  CHECK(figures(r, "a").part.first_tied == 1);
  CHECK(figures(r, "b").part.first_tied == 1);
  CHECK(figures(r, "c").part.first == 0);
}

TEST_CASE("more than 60 s apart is another burst") {
  CHECK(analyse({{0, "a"}, {60, "b"}}, 0, 500).burst_count == 1);
  CHECK(analyse({{0, "a"}, {60.001, "b"}}, 0, 500).burst_count == 0);
}

}  // namespace
}  // namespace telltale::test
