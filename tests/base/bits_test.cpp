// for_each_bit against a plain loop over all 32 places.
#include "telltale/base/bits.hpp"

#include <random>
#include <vector>

#include "catch.hpp"

namespace telltale {
namespace {

TEST_CASE("bits: every member once, lowest first") {
  std::mt19937 engine(3);
  for (int round = 0; round < 1000; ++round) {
    const auto set = static_cast<std::uint32_t>(engine());
    std::vector<std::size_t> seen;
    for_each_bit(set, [&](std::size_t i) { seen.push_back(i); });
    std::vector<std::size_t> expected;
    for (std::size_t i = 0; i < 32; ++i) {
      if ((set >> i & 1U) != 0) expected.push_back(i);
    }
    CHECK(seen == expected);
  }
}

TEST_CASE("bits: nothing of nothing") {
  for_each_bit(0, [](std::size_t) { FAIL("an empty set has a member"); });
}

}  // namespace
}  // namespace telltale
