// The pyramid of the past: any stretch, long or short, with every extreme of
// the readings that lie in it.
#include "summary/picture_pyramid.hpp"

#include <random>
#include <vector>

#include "catch.hpp"

namespace telltale::test {
namespace {

using host::Picture;
using host::PictureColumn;
using host::PicturePyramid;
using host::Range;

}  // namespace

TEST_CASE("pyramid: a window has every extreme in it, whatever its length") {
  std::mt19937 random(5);
  std::uniform_real_distribution<float> reading(-1.0F, 1.0F);
  PicturePyramid past;
  std::vector<float> all;
  constexpr int kScans = 40'000;
  for (int i = 0; i < kScans; ++i) {
    all.push_back(i % 7919 == 0 ? 1000.0F + static_cast<float>(i)
                                : reading(random));
    PictureColumn scan;
    scan.first = scan.last = TimeMs{i * 1000LL};
    scan.range[0].add(all.back());
    past.add(scan);
  }
  for (const int length : {5, 300, 3000, 20'000, kScans}) {
    const int from = kScans - length;
    const Picture seen =
        past.window(TimeMs{from * 1000LL}, TimeMs{(kScans - 1) * 1000LL});
    INFO(length);
    REQUIRE(!seen.empty());
    CHECK(seen.columns().size() <= PicturePyramid::kReach);
    CHECK(seen.to() == TimeMs{(kScans - 1) * 1000LL});
    CHECK(seen.from() <= TimeMs{from * 1000LL});
    Range truth;
    for (int i = from; i < kScans; ++i) {
      truth.add(all[static_cast<std::size_t>(i)]);
    }
    CHECK(seen.range_of(0).high >= truth.high);
    CHECK(seen.range_of(0).low <= truth.low);
    // No scan is told twice or out of order.
    for (std::size_t i = 1; i < seen.columns().size(); ++i) {
      CHECK(seen.columns()[i].first > seen.columns()[i - 1].last);
    }
  }
}

TEST_CASE("pyramid: the recent past comes scan by scan") {
  PicturePyramid past;
  for (int i = 0; i < 100'000; ++i) {
    PictureColumn scan;
    scan.first = scan.last = TimeMs{i * 1000LL};
    scan.range[0].add(static_cast<float>(i));
    past.add(scan);
  }
  const Picture seen = past.window(TimeMs{99'900'000}, TimeMs{99'950'000});
  REQUIRE(seen.columns().size() == 51);
  CHECK(seen.columns().front().range[0].low == 99'900.0F);
  CHECK(seen.columns().back().range[0].high == 99'950.0F);
}

}  // namespace telltale::test
