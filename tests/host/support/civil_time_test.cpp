#include "support/civil_time.hpp"

#include "catch.hpp"

namespace telltale::host {
namespace {

// Python 3.11: (date(y, m, d) - date(1970, 1, 1)).days; the sums of years are
// the calendar's own (400 years are 146097 days).
TEST_CASE("dates count days since 1970") {
  CHECK(days_from_civil(1970, 1, 1) == 0);
  CHECK(days_from_civil(1969, 12, 31) == -1);
  CHECK(days_from_civil(2000, 2, 29) == 11016);
  CHECK(days_from_civil(1900, 3, 1) == -25508);
  CHECK(days_from_civil(1, 1, 1) == -719162);
  CHECK(days_from_civil(9999, 12, 31) == 2932896);
  CHECK(days_from_civil(2400, 1, 1) - days_from_civil(1600, 1, 1) == 292194);
  CHECK(days_from_civil(2100, 1, 1) - days_from_civil(1900, 1, 1) == 73049);
  CHECK(days_from_civil(2024, 12, 31) - days_from_civil(2024, 1, 1) == 365);
}

TEST_CASE("dates that do not exist are no dates") {
  CHECK_FALSE(is_valid_date(2023, 2, 29));
  CHECK_FALSE(is_valid_date(2024, 2, 30));
  CHECK_FALSE(is_valid_date(2100, 2, 29));
  CHECK_FALSE(is_valid_date(2024, 13, 1));
  CHECK_FALSE(is_valid_date(2024, 0, 1));
  CHECK_FALSE(is_valid_date(2024, 4, 31));
  CHECK_FALSE(is_valid_date(0, 1, 1));
  CHECK(is_valid_date(2000, 2, 29));
}

TEST_CASE("every day of ten thousand years comes back") {
  for (std::int64_t day = days_from_civil(1, 1, 1);
       day <= days_from_civil(9999, 12, 31); ++day) {
    const CivilDate date = civil_from_days(day);
    if (!is_valid_date(date.year, date.month, date.day) ||
        days_from_civil(date.year, date.month, date.day) != day) {
      FAIL("day " << day);
    }
  }
}

TEST_CASE("days outside the calendar give its nearest day") {
  CHECK(civil_from_days(10000000) == CivilDate{9999, 12, 31});
  CHECK(civil_from_days(-10000000) == CivilDate{1, 1, 1});
}

TEST_CASE("milliseconds split towards the day they lie in") {
  CHECK(split_days(-1).days == -1);
  CHECK(split_days(-1).ms == kMsPerDay - 1);
  CHECK(split_days(kMsPerDay).days == 1);
  CHECK(split_days(kMsPerDay).ms == 0);
}

}  // namespace
}  // namespace telltale::host
