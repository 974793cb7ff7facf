// hours-mismatch: hour meter against running time, beyond the meter's
// resolution; note > 5 % and > 0.2 h (contract section 6).
#include "telltale/detect/checks/hours_mismatch.hpp"

#include <cmath>

#include "catch.hpp"
#include "judge.hpp"

namespace telltale::test {
namespace {

constexpr const char* kSlug = "hours-mismatch";

/// The meter runs `factor` times as fast as the watch, in steps.
MadeRun metered(double factor, double minutes = 300.0, double step = 0.01,
                double begin = 1200.0) {
  MadeRun run = usual_run(minutes).every(10.0);
  run.fault(Channel::engine_hours, [=](const Scene& s, double) {
    const double hours = begin + factor * s.ran / 3600.0;
    return std::floor(hours / step + 1e-9) * step;
  });
  return run;
}

TEST_CASE("hours-mismatch: beyond 5 % either way") {
  CHECK(!judge(metered(1.0)).found(kSlug));
  CHECK(!judge(metered(0.955)).found(kSlug));
  CHECK(!judge(metered(1.045)).found(kSlug));
  for (const double factor : {0.93, 1.07}) {
    const Outcome out = judge(metered(factor));
    CHECK(out.severity(kSlug) == Severity::note);
    const Told& told = *out.first(kSlug);
    CHECK(told.finding.channel == Channel::engine_hours);
    CHECK(told.finding.unit == Unit::pct);
    CHECK(told.finding.limit == 5.0);
    CHECK(told.finding.value == Approx(7.0).margin(0.4));
    // 300 min, the warming up and the cool-down: 5.15 h.
    CHECK(told.finding.detail[1] == Approx(5.15).margin(0.02));
    CHECK(told.finding.detail[0] == Approx(5.15 * factor).margin(0.03));
  }
}

TEST_CASE("hours-mismatch: less than 0.2 h is none") {
  // A meter in hundredths that does not count at all: 0.2 h and 0.5 h.
  CHECK(!judge(metered(0.0, 3.0, 0.01, 1200.37)).found(kSlug));
  CHECK(judge(metered(0.0, 20.0, 0.01, 1200.37)).found(kSlug));
}

TEST_CASE("hours-mismatch: resolution explains its part") {
  CHECK(!judge(metered(1.0, 40.0, 1.0)).found(kSlug));
  CHECK(!judge(metered(1.0, 80.0, 0.5)).found(kSlug));
  CHECK(!judge(metered(1.0, 150.0, 0.1)).found(kSlug));
}

TEST_CASE("hours-mismatch: a stopped meter in whole hours shows in the end") {
  CHECK(!judge(metered(0.0, 40.0, 1.0)).found(kSlug));
  CHECK(judge(metered(0.0, 240.0, 1.0)).found(kSlug));
}

TEST_CASE("hours-mismatch: blind in short runs") {
  const Outcome out = judge(metered(0.0, 1.0));
  CHECK(!out.found(kSlug));
  CHECK(out.blind(kSlug) == Blind::too_short);
}

TEST_CASE("hours-mismatch: a profile changes the limit") {
  CHECK(!judge(metered(0.93),
               with_limit(Plate{}.profile(), kSlug, {.note = 10.0F}))
             .found(kSlug));
}

}  // namespace
}  // namespace telltale::test
