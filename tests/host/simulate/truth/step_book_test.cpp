#include "simulate/truth/step_book.hpp"

#include <cmath>

#include "catch.hpp"

namespace telltale::host::sim {
namespace {

const Rating kRating{};  // 8 kW, 60 Hz

Snapshot at(double t, double load_pct, double hertz) {
  Snapshot s;
  s.t = t;
  s.dt = 0.2;
  s.settled_kw = load_pct / 100.0 * kRating.power_kw;
  s.hertz_low = s.hertz_high = hertz;
  s.value.fill(std::nan(""));
  s.value[index_of(Channel::frequency)] = hertz;
  return s;
}

/// Half load comes on at 10 s: the frequency dips by `dip` Hz and is back on
/// its new level after `back_s`.
StepBook played(double dip, double back_s, double second_step_s = 1e9) {
  StepBook book(kRating);
  for (int i = 1; i <= 250; ++i) {
    const double t = 0.2 * i;
    double hertz = 62.0;
    double load = 10.0;
    if (t > 10.0) {
      load = 60.0;
      hertz = t - 10.0 <= back_s ? 61.0 - dip : 61.0;
    }
    if (t > 10.0 + second_step_s) load = 20.0;
    book.see(at(t, load, hertz), true);
  }
  book.close();
  return book;
}

// ISO 8528-5: the deviation is against rated frequency; the frequency has
// recovered when it stays within the tolerance band, here 2 % full width.
TEST_CASE("a step has its size, its extreme and its recovery") {
  const StepBook book = played(4.0, 2.0);
  REQUIRE(book.steps().size() == 1);
  const LoadStep& step = book.steps()[0];
  CHECK(step.at == Approx(10.0).margin(0.21));
  CHECK(step.from_pct == Approx(10.0));
  CHECK(step.to_pct == Approx(60.0));
  CHECK(step.deviation_pct == Approx(-5.0));  // 57 Hz of 60
  CHECK(step.recovery_s == Approx(2.0).margin(0.25));
  CHECK(step.lone);
}

TEST_CASE("a dip inside the band needs no recovery") {
  CHECK(played(0.5, 2.0).steps()[0].recovery_s == 0.0);
}

TEST_CASE("steps close together are not lone") {
  const StepBook book = played(4.0, 2.0, 6.0);
  REQUIRE(book.steps().size() == 2);
  CHECK_FALSE(book.steps()[0].lone);
  CHECK_FALSE(book.steps()[1].lone);
}

TEST_CASE("changes within three seconds are one step, small ones none") {
  StepBook book(kRating);
  for (int i = 1; i <= 300; ++i) {
    const double t = 0.2 * i;
    double load = 10.0;
    if (t > 10.0) load = 16.0;
    if (t > 12.0) load = 31.0;
    if (t > 30.0) load = 38.0;
    book.see(at(t, load, 60.0), true);
  }
  book.close();
  REQUIRE(book.steps().size() == 1);
  CHECK(book.steps()[0].at == Approx(12.0).margin(0.21));
  CHECK(book.steps()[0].to_pct == Approx(31.0));
}

// The limits of ISO 8528-5 that the contract names.
TEST_CASE("classes have the limits of the standard") {
  CHECK(class_limits(1).dip_pct == 15.0);
  CHECK(class_limits(2).dip_pct == 10.0);
  CHECK(class_limits(3).dip_pct == 7.0);
  CHECK(class_limits(2).rise_pct == 12.0);
  CHECK(class_limits(2).recovery_s == 5.0);
  CHECK(class_limits(3).recovery_s == 3.0);
}

}  // namespace
}  // namespace telltale::host::sim
