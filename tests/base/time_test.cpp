// Points and spans of time: two types, one arithmetic.
#include "telltale/base/time.hpp"

#include <type_traits>

#include "catch.hpp"

namespace telltale {
namespace {

static_assert(seconds(90) == DurationMs{90'000});
static_assert(minutes(10) == seconds(600));
static_assert(hours(2) == minutes(120));
static_assert(TimeMs{5000} - TimeMs{2000} == seconds(3));
static_assert(TimeMs{5000} + seconds(1) - seconds(2) == TimeMs{4000});
static_assert(!is_set(kNoTime) && is_set(TimeMs{0}) && is_set(TimeMs{-1}));
static_assert(kNoTime < TimeMs{-1});
static_assert(sizeof(TimeMs) == 8 && sizeof(DurationMs) == 8);
static_assert(std::is_trivially_copyable_v<TimeMs>);
static_assert(!std::is_convertible_v<TimeMs, DurationMs> &&
              !std::is_convertible_v<DurationMs, TimeMs> &&
              !std::is_convertible_v<std::int64_t, TimeMs>);

TEST_CASE("time: differences may be negative") {
  CHECK((TimeMs{1000} - TimeMs{4000}).ms == -3000);
  CHECK(TimeMs{1000} < TimeMs{1001});
  CHECK(seconds(-1) < DurationMs{0});
}

}  // namespace
}  // namespace telltale
