#include "telltale/base/slots.hpp"

#include "catch.hpp"

namespace telltale {
namespace {

TEST_CASE("an item stays under its key") {
  Slots<int, 3> slots;
  CHECK(slots.find(7) == nullptr);
  *slots.get(7) = 70;
  *slots.get(2) = 20;
  CHECK(*slots.find(7) == 70);
  CHECK(*slots.get(2) == 20);
  int sum = 0;
  for (const auto& [item, key] : slots) sum += item + key;
  CHECK(sum == 99);
}

TEST_CASE("a full house takes no new key and keeps the old ones") {
  Slots<int, 2> slots;
  *slots.get(0) = 5;
  *slots.get(1) = 6;
  CHECK(slots.get(2) == nullptr);
  CHECK(*slots.get(0) == 5);
  slots.clear();
  REQUIRE(slots.get(2) != nullptr);
  CHECK(*slots.get(2) == 0);
  CHECK(slots.find(0) == nullptr);
}

}  // namespace
}  // namespace telltale
