#include "telltale/base/sign_sweep.hpp"

#include <limits>

#include "catch.hpp"

namespace telltale {
namespace {

TEMPLATE_TEST_CASE("above zero: by the bits of the number", "", float, double) {
  using Limits = std::numeric_limits<TestType>;
  CHECK(above_zero(TestType(0)) == 0);
  for (const TestType x : {Limits::denorm_min(), Limits::min(), TestType(0.1),
                           TestType(1), Limits::max(), Limits::infinity()}) {
    CHECK(above_zero(x) == 1);
  }
}

TEMPLATE_TEST_CASE("sign sweep: one negative among many", "", float, double) {
  using Limits = std::numeric_limits<TestType>;
  SignSweep<TestType> sweep;
  CHECK_FALSE(sweep.any_negative());
  for (const TestType x :
       {TestType(0), TestType(3), Limits::infinity(), Limits::quiet_NaN()}) {
    sweep.add(x);
    CHECK_FALSE(sweep.any_negative());
  }
  sweep.add(-Limits::denorm_min());
  CHECK(sweep.any_negative());
  sweep.add(TestType(5));
  CHECK(sweep.any_negative());
}

}  // namespace
}  // namespace telltale
