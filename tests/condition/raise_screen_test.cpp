// Three raises within a minute.
#include "telltale/condition/raise_screen.hpp"

#include <deque>
#include <initializer_list>
#include <random>

#include "catch.hpp"
#include "telltale/condition/run_lengths.hpp"

namespace telltale {
namespace {

std::uint32_t hits(std::initializer_list<int> at_s) {
  RaiseScreen<> screen;
  for (const int s : at_s) screen.raise(TimeMs{s * 1000});
  return screen.hits();
}

TEST_CASE("three raises within 60 s, both ends counted") {
  CHECK(hits({0, 30}) == 0);
  CHECK(hits({0, 30, 60}) == 1);
  CHECK(hits({0, 30, 61}) == 0);
  CHECK(hits({0, 30, 61, 62}) == 1);
  CHECK(hits({0, 0, 0}) == 1);
}

// The rule and the index do not find the same alarms.
TEST_CASE("raises at 0, 30 and 59 s meet the rule with an index of 0.034") {
  CHECK(hits({0, 30, 59}) == 1);
  RunLengths<double> runs;
  for (const int s : {0, 30, 59}) runs.raise(TimeMs{s * 1000});
  CHECK(runs.index() == Approx(0.034).margin(5e-4));
}

TEST_CASE("a long chatter is one stretch, a second one another") {
  RaiseScreen<> screen;
  for (int s = 0; s <= 600; s += 20) screen.raise(TimeMs{s * 1000});
  CHECK(screen.bursts() == 1);
  CHECK(screen.burst_from() == TimeMs{0});
  CHECK(screen.burst_to() == TimeMs{600'000});
  for (int s = 2000; s <= 2100; s += 20) screen.raise(TimeMs{s * 1000});
  CHECK(screen.bursts() == 2);
  CHECK(screen.burst_from() == TimeMs{2'000'000});
}

TEST_CASE("any raises, against counting them all again each time") {
  std::mt19937 random(8);
  std::uniform_int_distribution<int> gap_ms(0, 50'000);
  RaiseScreen<> screen;
  std::deque<std::int64_t> all;
  std::int64_t ms = 0;
  for (int i = 0; i < 20'000; ++i) {
    all.push_back(ms);
    while (all.front() < ms - 60'000) all.pop_front();
    REQUIRE(screen.raise(TimeMs{ms}) == (all.size() >= 3));
    ms += gap_ms(random);
  }
}

}  // namespace
}  // namespace telltale
