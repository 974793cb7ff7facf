// OuterPairs against quantiles of the sorted values, bit by bit.
#include "telltale/condition/outer_pairs.hpp"

#include <random>
#include <span>
#include <vector>

#include "catch.hpp"
#include "telltale/base/compact.hpp"
#include "telltale/condition/median.hpp"

namespace telltale {
namespace {

TEST_CASE("outer pairs: the quantiles of all the values") {
  std::mt19937 engine(17);
  std::normal_distribution<double> around(60.0, 0.2);
  for (std::size_t size = 2; size <= 64; ++size) {
    std::vector<double> values(size);
    for (double& x : values) x = around(engine);
    if (size % 3 == 0) values[size / 2] = values[0];
    OuterPairs<double> ends;
    for (const double x : values) ends.add(x);
    CHECK(ends.lower(0.005) ==
          quantile_in_place(std::span<double>(values), 0.005));
    CHECK(ends.upper(0.995) ==
          quantile_in_place(std::span<double>(values), 0.995));
  }
}

TEST_CASE("outer pairs: values that come compact") {
  OuterPairs<float, Compact<float, HertzRange>> ends;
  for (const float hz : {60.0F, 59.0F, 61.0F, 60.5F}) ends.add(hz);
  CHECK(ends.lower(0.0F) == Approx(59.0F).margin(0.0004));
  CHECK(ends.upper(1.0F) == Approx(61.0F).margin(0.0004));
}

}  // namespace
}  // namespace telltale
