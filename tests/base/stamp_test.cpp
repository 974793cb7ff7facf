// Stamp: four bytes give the full time back, also where the low half wraps.
#include "telltale/base/stamp.hpp"

#include "catch.hpp"

namespace telltale {
namespace {

TEST_CASE("stamp: exact up to 49 days, wherever the clock stands") {
  // From 1970, today, and across multiples of 2^32 ms.
  for (const std::int64_t base :
       {std::int64_t{0}, std::int64_t{1'780'300'800'000},
        std::int64_t{4'294'967'290}, std::int64_t{414} * 4'294'967'296 - 5}) {
    const Stamp stamp{TimeMs{base}};
    for (const std::int64_t later :
         {std::int64_t{0}, std::int64_t{1}, std::int64_t{3'600'000},
          std::int64_t{4'233'600'000}}) {
      const TimeMs now{base + later};
      CHECK(stamp.age(now) == DurationMs{later});
      CHECK(stamp.full(now) == TimeMs{base});
    }
  }
}

TEST_CASE("short stamp: exact up to 65 seconds") {
  for (const std::int64_t base : {std::int64_t{0}, std::int64_t{65'530},
                                  std::int64_t{1'780'300'800'000}}) {
    const ShortStamp stamp{TimeMs{base}};
    for (const std::int64_t later : {0, 1, 30'000, 65'535}) {
      CHECK(stamp.age(TimeMs{base + later}) == DurationMs{later});
      CHECK(stamp.full(TimeMs{base + later}) == TimeMs{base});
    }
  }
  STATIC_REQUIRE(sizeof(ShortStamp) == 2);
}

}  // namespace
}  // namespace telltale
