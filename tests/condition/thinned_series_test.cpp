#include "telltale/condition/thinned_series.hpp"

#include <cmath>

#include "catch.hpp"

namespace telltale {
namespace {

struct Scales {
  static constexpr Fixed16::Scale kScales[] = {{35.0F, 0.0005F},
                                               {-100.0F, 0.01F}};
};

// Kept in two bytes a number, a series differs from the same one kept whole by
// half a step, and by another half each time it has been thinned.
TEST_CASE("cells in two bytes tell what whole cells tell") {
  ThinnedSeries<double, 2, 48, seconds(60)> whole;
  ThinnedSeries<double, 2, 48, seconds(60), InTwoBytes<double, 2, Scales>>
      packed;
  for (int i = 0; i < 6 * 200; ++i) {
    const double hz = 60.0 - 0.001 * i + 0.1 * std::sin(0.05 * i);
    const double load = 40.0 + 30.0 * std::sin(0.01 * i);
    CHECK(whole.add(seconds(10), {hz, load}) ==
          packed.add(seconds(10), {hz, load}));
  }
  REQUIRE(whole.size() == packed.size());
  CHECK(whole.size() >= 24);
  CHECK(whole.cell() == packed.cell());
  for (std::size_t i = 0; i < whole.size(); ++i) {
    CHECK(std::abs(whole[i][0] - packed[i][0]) < 0.00101);
    CHECK(std::abs(whole[i][1] - packed[i][1]) < 0.0201);
  }
}

// 192 min in 48 cells of a minute: twice merged, cells of four minutes.
TEST_CASE("full cells are merged in pairs and keep their mean") {
  ThinnedSeries<double, 1, 48, seconds(60)> series;
  for (int i = 0; i < 192; ++i) {
    series.add(seconds(60), {static_cast<double>(i)});
  }
  CHECK(series.cell() == minutes(4));
  CHECK(series.size() >= 24);
  CHECK(series[0][0] == Approx(1.5));  // mean of 0..3
  CHECK(series[1][0] == Approx(5.5));
}

}  // namespace
}  // namespace telltale
