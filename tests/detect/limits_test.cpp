// Limits: defaults, overrides, what is refused; the truth table of severities.
#include "telltale/detect/limits.hpp"

#include <limits>

#include "catch.hpp"

namespace telltale {
namespace {

constexpr Limits kAbove{.attention = level(95, 10), .urgent = level(105, 10)};
constexpr Limits kBelow{
    .attention = level(13, 60), .urgent = level(12, 60), .side = Side::below};

TEST_CASE("limits: the limit itself passes nothing") {
  CHECK(kAbove.severity_of(95.0F) == Severity::healthy);
  CHECK(kAbove.severity_of(95.01F) == Severity::attention);
  CHECK(kAbove.severity_of(105.0F) == Severity::attention);
  CHECK(kAbove.severity_of(105.01F) == Severity::urgent);
  CHECK(kBelow.severity_of(13.0F) == Severity::healthy);
  CHECK(kBelow.severity_of(12.99F) == Severity::attention);
  CHECK(kBelow.severity_of(11.9F) == Severity::urgent);
}

TEST_CASE("limits: a count reaches its limit, a missing value none") {
  constexpr Limits kCount{.attention = level(3, 60), .inclusive = true};
  CHECK(kCount.severity_of(3.0F) == Severity::attention);
  CHECK(kCount.severity_of(2.0F) == Severity::healthy);
  CHECK(kAbove.severity_of(kUnknown) == Severity::healthy);
  CHECK(Limits{}.severity_of(1e9F) == Severity::healthy);
}

// Contract section 5: an override of one severity leaves the other.
TEST_CASE("limits: an override of one leaves the other") {
  Profile profile;
  profile.limits.push_back({.check = 7, .attention = 90.0F});
  const Limits changed = with_overrides(kAbove, profile, 7);
  CHECK(changed.attention.limit == 90.0F);
  CHECK(changed.urgent.limit == 105.0F);
  CHECK(changed.attention.delay_ms == 10'000);
  CHECK(with_overrides(kAbove, profile, 8).attention.limit == 95.0F);
}

TEST_CASE("limits: what makes no sense is refused") {
  CHECK(validate(kAbove) == SetupError::none);
  CHECK(validate(kBelow) == SetupError::none);
  Limits wrong = kAbove;
  wrong.urgent.limit = 94.0F;
  CHECK(validate(wrong) == SetupError::wrong_order);
  wrong.urgent.limit = std::numeric_limits<float>::infinity();
  CHECK(validate(wrong) == SetupError::not_finite);
  wrong = kBelow;
  wrong.urgent.limit = 14.0F;
  CHECK(validate(wrong) == SetupError::wrong_order);
  wrong = kAbove;
  wrong.attention.delay_ms = 8U * 24U * 3600U * 1000U;
  CHECK(validate(wrong) == SetupError::out_of_range);
}

TEST_CASE("severity: 'not judged' never hides a finding") {
  constexpr Severity kAll[] = {Severity::not_judged, Severity::healthy,
                               Severity::note, Severity::attention,
                               Severity::urgent};
  for (int a = 0; a < 5; ++a) {
    for (int b = 0; b < 5; ++b) {
      CHECK(worst(kAll[a], kAll[b]) == kAll[a > b ? a : b]);
    }
    CHECK(is_finding(kAll[a]) == (a >= 2));
  }
}

}  // namespace
}  // namespace telltale
