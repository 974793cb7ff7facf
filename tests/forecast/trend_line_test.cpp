// TrendLine against scipy.stats.theilslopes.
#include "telltale/forecast/trend_line.hpp"

#include <array>
#include <cmath>

#include "catch.hpp"

namespace telltale {
namespace {

// scipy.stats.theilslopes(y, x, 0.95, method='joint'): 1, 0, 1, 3.5.
TEST_CASE("one wild point does not bend the line") {
  const std::array<double, 7> t = {1, 2, 3, 4, 5, 6, 7};
  const std::array<double, 7> y = {1, 2, 3, 4, 5, 16, 7};
  std::array<double, 21> scratch{};
  const auto line = theil_sen_line<double>(
      t, y, scratch, 1.959963984540054 * std::sqrt(44.3333333333));
  CHECK(line.slope == 1.0);
  CHECK(line.low == 1.0);
  CHECK(line.high == 3.5);
  CHECK(line.at(0.0) == 0.0);
}

TEST_CASE("no two times, no line") {
  const std::array<float, 3> t = {2, 2, 2};
  const std::array<float, 3> y = {1, 2, 3};
  std::array<float, 3> scratch{};
  CHECK(std::isnan(theil_sen_line<float>(t, y, scratch, 1.0F).slope));
}

}  // namespace
}  // namespace telltale
