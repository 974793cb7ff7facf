#include "telltale/base/box.hpp"

#include "catch.hpp"

namespace telltale {

TEST_CASE("the box has its own room, the host the other") {
  STATIC_REQUIRE(room<float>(64, 32) == 32);
  STATIC_REQUIRE(room<double>(64, 32) == 64);
}

}  // namespace telltale
