// StaticVector: room for N, refuses the rest and changes nothing then.
#include "telltale/base/static_vector.hpp"

#include <numeric>

#include "catch.hpp"

namespace telltale {
namespace {

constexpr bool refuses_the_third() {
  StaticVector<int, 2> two;
  return two.push_back(1) && two.push_back(2) && !two.push_back(3) &&
         two.size() == 2 && two.back() == 2;
}
static_assert(refuses_the_third());

TEST_CASE("static vector: holds, hands out, clears") {
  StaticVector<int, 10> ten;
  CHECK(ten.empty());
  CHECK(decltype(ten)::capacity() == 10);
  for (int i = 0; i < 10; ++i) CHECK(ten.push_back(i));
  CHECK(ten.full());
  CHECK(std::accumulate(ten.begin(), ten.end(), 0) == 45);
  CHECK(ten.view().size() == 10);
  ten[3] = 30;
  CHECK(ten.view()[3] == 30);
  ten.clear();
  CHECK(ten.empty());
  CHECK(ten.view().empty());
}

}  // namespace
}  // namespace telltale
