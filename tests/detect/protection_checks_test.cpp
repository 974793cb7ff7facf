// ProtectionChecks: a part of all checks, in their order, that fits.
#include "telltale/detect/protection_checks.hpp"

#include <algorithm>

#include "catch.hpp"
#include "telltale/box.hpp"

namespace telltale {
namespace {

TEST_CASE("protection checks are some of all checks, in the same order") {
  constexpr auto kSome = ProtectionChecks::ids<float>();
  constexpr auto kAll = AllChecks::ids<float>();
  CHECK(std::is_sorted(kSome.begin(), kSome.end()));
  CHECK(std::includes(kAll.begin(), kAll.end(), kSome.begin(), kSome.end()));
  CHECK(kSome.size() < kAll.size());
}

TEST_CASE("a box of protection checks takes less than 6 kB even in 64 bits") {
  STATIC_REQUIRE(sizeof(Box<float, ProtectionChecks>) < 6 * 1024);
}

}  // namespace
}  // namespace telltale
