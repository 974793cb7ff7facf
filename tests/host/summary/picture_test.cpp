// Pictures: however long the log, no excursion leaves them. The yardstick is
// the readings themselves, held whole beside the picture.
#include "summary/picture.hpp"

#include <algorithm>
#include <random>
#include <vector>

#include "catch.hpp"

namespace telltale::test {
namespace {

using host::Picture;
using host::PictureColumn;
using host::Range;

PictureColumn scan_of(std::int64_t ms, float value) {
  PictureColumn scan;
  scan.first = scan.last = TimeMs{ms};
  scan.range[3].add(value);
  return scan;
}

}  // namespace

TEST_CASE("picture: one scan in a million is still there, at its time") {
  constexpr int kScans = 1'000'000;
  for (const int at : {0, 1, 499'999, 777'777, kScans - 1}) {
    Picture picture;
    for (int i = 0; i < kScans; ++i) {
      picture.add(scan_of(i * 1000LL, i == at ? 99.0F : 50.0F));
    }
    CHECK(picture.columns().size() <= Picture::kMostColumns);
    CHECK(picture.columns().size() > Picture::kMostColumns / 3);
    int columns_with_it = 0;
    for (const PictureColumn& column : picture.columns()) {
      if (column.range[3].high != 99.0F) continue;
      ++columns_with_it;
      CHECK(column.first.ms <= at * 1000LL);
      CHECK(column.last.ms >= at * 1000LL);
    }
    CHECK(columns_with_it == 1);
  }
}

TEST_CASE("picture: every column holds exactly the extremes of its scans") {
  std::mt19937 random(11);
  std::uniform_int_distribution<std::int64_t> gap(1, 90'000);
  std::normal_distribution<float> reading(0.0F, 10.0F);
  std::vector<PictureColumn> all;
  Picture picture(64);
  std::int64_t now = 1'000'000;
  for (int i = 0; i < 5000; ++i) {
    now += gap(random);
    all.push_back(scan_of(now, reading(random)));
    picture.add(all.back());
  }
  std::size_t used = 0;
  for (const PictureColumn& column : picture.columns()) {
    Range truth;
    for (; used < all.size() && all[used].first <= column.last; ++used) {
      REQUIRE(all[used].first >= column.first);
      truth.add(all[used].range[3]);
    }
    CHECK(column.range[3].low == truth.low);
    CHECK(column.range[3].high == truth.high);
  }
  CHECK(used == all.size());
}

TEST_CASE("picture: no number changes nothing, and nothing is no reading") {
  Range range;
  CHECK(range.empty());
  range.add(std::numeric_limits<float>::quiet_NaN());
  CHECK(range.empty());
  range.add(2.0F);
  range.add(std::numeric_limits<float>::quiet_NaN());
  CHECK(range.low == 2.0F);
  CHECK(range.high == 2.0F);
}

}  // namespace telltale::test
