// Ring against a deque that forgets; also at compile time.
#include "telltale/base/ring.hpp"

#include <deque>
#include <random>

#include "catch.hpp"

namespace telltale {
namespace {

constexpr bool keeps_the_last_three() {
  Ring<int, 3> ring;
  for (int i = 1; i <= 5; ++i) ring.push(i);
  return ring.full() && ring[0] == 3 && ring.front() == 3 && ring.back() == 5;
}
static_assert(keeps_the_last_three());

TEST_CASE("ring: as a deque that drops the oldest") {
  std::mt19937 engine(5);
  Ring<int, 7> ring;
  std::deque<int> all;
  for (int i = 0; i < 5000; ++i) {
    if (engine() % 3 == 0 && !all.empty()) {
      ring.pop();
      all.pop_front();
    } else {
      ring.push(i);
      all.push_back(i);
      if (all.size() > 7) all.pop_front();
    }
    REQUIRE(ring.size() == all.size());
    REQUIRE(ring.empty() == all.empty());
    for (std::size_t k = 0; k < all.size(); ++k) REQUIRE(ring[k] == all[k]);
  }
  ring.clear();
  CHECK(ring.empty());
}

TEST_CASE("ring: a walk meets the items oldest first") {
  Ring<int, 7> ring;
  for (int i = 0; i < 40; ++i) {
    ring.push(i);
    if (i % 5 == 0) ring.pop();
    std::size_t place = 0;
    ring.for_each([&](int item) { CHECK(item == ring[place++]); });
    CHECK(place == ring.size());
  }
}

}  // namespace
}  // namespace telltale
