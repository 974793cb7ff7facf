// ChangeScan: published break points, places and false alarms by repetition.
#include "season/change_scan.hpp"

#include <cmath>

#include "catch.hpp"
#include "noise.hpp"
#include "published_series.hpp"

namespace telltale::host::season {
namespace {

using published::counted_from;
using published::kNile;

// R strucchange: one break after observation 28, which is 1898.
TEST_CASE("the level shift of the Nile is the one change found") {
  const std::vector<Change> found =
      scan_changes(counted_from(1871.0, kNile.size()), kNile);
  REQUIRE(found.size() == 1);
  CHECK(found[0].kind == Change::Kind::step);
  CHECK(found[0].index == 28);
  CHECK(found[0].size < 0.0);
  CHECK(found[0].p < 0.01);
}

// 400 series without change at a rate of 1 %: 4 expected, 12 are beyond 4
// standard deviations.
TEST_CASE("false alarms come as seldom as stated") {
  for (const double correlation : {0.0, 0.3}) {
    Noise noise(21);
    int alarms = 0;
    for (int s = 0; s < 400; ++s) {
      std::vector<double> y = noise.series(60, correlation);
      for (std::size_t i = 0; i < y.size(); ++i) {
        y[i] += 0.03 * static_cast<double>(i);  // a trend is no change
      }
      alarms += scan_changes(counted_from(0.0, 60), y).empty() ? 0 : 1;
    }
    INFO("correlation " << correlation);
    CHECK(alarms <= 12);
  }
}

TEST_CASE("a step of three sigmas is dated within five runs") {
  Noise noise(5);
  int found = 0;
  int dated = 0;
  constexpr int kSeries = 200;
  for (int s = 0; s < kSeries; ++s) {
    std::vector<double> y = noise.series(60);
    for (std::size_t i = 0; i < y.size(); ++i) {
      y[i] += (i >= 35 ? 3.0 : 0.0) - 0.02 * static_cast<double>(i);
    }
    for (const Change& change : scan_changes(counted_from(0.0, 60), y)) {
      if (change.kind != Change::Kind::step) continue;
      ++found;
      const double off = std::abs(static_cast<double>(change.index) - 35.0);
      dated += off <= 5.0 && change.size > 0.0 ? 1 : 0;
    }
  }
  CHECK(found >= 0.95 * kSeries);
  CHECK(dated >= 0.97 * found);
}

// A fault that was mended: seen from either end the level is the same, so that
// no single step stands out.
TEST_CASE("a spell is found, its beginning and its end") {
  Noise noise(17);
  int found = 0;
  int hidden = 0;
  constexpr int kSeries = 100;
  for (int s = 0; s < kSeries; ++s) {
    std::vector<double> y = noise.series(43);
    for (std::size_t i = 15; i < 28; ++i) y[i] -= 6.0;
    const std::vector<double> t = counted_from(0.0, y.size());
    hidden += scan_peak(t, y).p > 0.001 ? 1 : 0;
    const std::vector<Change> changes = scan_changes(t, y);
    if (changes.size() != 2) continue;
    const auto near = [](const Change& c, double place) {
      return c.kind == Change::Kind::step &&
             std::abs(static_cast<double>(c.index) - place) <= 5.0;
    };
    found += near(changes[0], 15.0) && near(changes[1], 28.0) &&
                     changes[0].size < -4.0 && changes[1].size > 4.0
                 ? 1
                 : 0;
  }
  CHECK(hidden >= 0.9 * kSeries);
  CHECK(found >= 0.9 * kSeries);
}

// As above: 4 expected of 400.
TEST_CASE("false spells come as seldom as stated") {
  for (const double correlation : {0.0, 0.5}) {
    Noise noise(41);
    int alarms = 0;
    for (int s = 0; s < 400; ++s) {
      const std::vector<double> y = noise.series(100, correlation);
      alarms += spell_peak(counted_from(0.0, 100), y).p < 0.01 ? 1 : 0;
    }
    INFO("correlation " << correlation);
    CHECK(alarms <= 12);
    CHECK(alarms >= 1);
  }
}

TEST_CASE("one odd run makes no change") {
  Noise noise(9);
  std::vector<double> y = noise.series(50);
  y[20] += 60.0;
  CHECK(scan_changes(counted_from(0.0, 50), y).empty());
  CHECK(
      scan_changes(counted_from(0.0, 5), std::vector<double>(5, 1.0)).empty());
}

}  // namespace
}  // namespace telltale::host::season
