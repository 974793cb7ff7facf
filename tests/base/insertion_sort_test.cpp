// insertion_sort against the C++ library's.
#include "telltale/base/insertion_sort.hpp"

#include <algorithm>
#include <random>
#include <vector>

#include "catch.hpp"

namespace telltale {
namespace {

TEST_CASE("insertion sort: as std::sort, ties and all") {
  std::mt19937 engine(11);
  for (std::size_t size = 0; size < 64; ++size) {
    std::vector<int> items(size);
    for (int& item : items) item = static_cast<int>(engine() % 20);
    std::vector<int> expected = items;
    std::sort(expected.begin(), expected.end());
    insertion_sort(std::span<int>(items));
    CHECK(items == expected);
  }
}

}  // namespace
}  // namespace telltale
