// voltage-unbalance: greatest deviation of a leg from the mean of the legs;
// attention 3 %, urgent 5 %, 60 s (contract section 6; NEMA MG 1 definition,
// ANSI C84.1 3 %).
#include "telltale/detect/checks/voltage_unbalance.hpp"

#include "catch.hpp"
#include "judge.hpp"

namespace telltale::test {
namespace {

constexpr const char* kSlug = "voltage-unbalance";

TEST_CASE("voltage-unbalance: textbook figures") {
  // Common in handbooks on NEMA MG 1: 460, 467, 450 V: mean 459, greatest
  // deviation 9, unbalance 1.96 %.
  const double a[] = {460.0, 467.0, 450.0};
  int worst = -1;
  CHECK(unbalance_pct(a, 3, &worst) == Approx(1.9608).margin(1e-4));
  CHECK(worst == 2);
  // Another: 220, 215, 210 V: 2.33 %.
  const double b[] = {220.0, 215.0, 210.0};
  CHECK(unbalance_pct(b, 3) == Approx(2.3256).margin(1e-4));
  const float c[] = {120.0F, 120.0F};
  CHECK(unbalance_pct(c, 2) == 0.0F);
  CHECK(!(unbalance_pct(a, 1) == unbalance_pct(a, 1)));
}

/// L1 rises and L2 falls by `pct`, so that the mean stays.
MadeRun uneven(double pct, double s = 300.0) {
  MadeRun run = usual_run(20.0);
  run.fault(Channel::voltage_l1, during(600.0, s, to(120.0 + 1.2 * pct)))
      .fault(Channel::voltage_l2, during(600.0, s, to(120.0 - 1.2 * pct)));
  return run;
}

TEST_CASE("voltage-unbalance: beyond 3 % and beyond 5 %") {
  CHECK(judge(uneven(3.0)).findings() == "");
  const Outcome out = judge(uneven(3.05));
  CHECK(out.findings() == "voltage-unbalance attention");
  const Told& told = *out.first(kSlug);
  CHECK(told.finding.unit == Unit::pct);
  CHECK(told.finding.limit == 3.0);
  CHECK(told.finding.value == Approx(3.05));
  CHECK(told.since == 600.0);
  CHECK(judge(uneven(5.0)).findings() == "voltage-unbalance attention");
  CHECK(judge(uneven(5.1)).findings() == "voltage-unbalance urgent");
}

TEST_CASE("voltage-unbalance: just before and just after the delay") {
  CHECK(judge(uneven(4.0, 59.0)).findings() == "");
  CHECK(judge(uneven(4.0, 63.0)).findings() == "voltage-unbalance attention");
}

TEST_CASE("voltage-unbalance: three legs name the one that is off") {
  MadeRun run = usual_run(20.0, kEuropean);
  // 231 - 5 % on L3 alone: mean falls by a third of it.
  run.fault(Channel::voltage_l3, during(600.0, 300.0, times(0.93)));
  const Outcome out = judge(run);
  CHECK(out.severity(kSlug) == Severity::attention);
  CHECK(out.first(kSlug)->finding.channel == Channel::voltage_l3);
  // (mean - 0.93) / mean with mean = 2.93 / 3.
  CHECK(out.first(kSlug)->finding.value == Approx(4.778).margin(0.01));
}

// One finding a check, channel and run: the one that closes must be the one
// that opened, whichever leg is furthest off at that moment.
TEST_CASE("voltage-unbalance: closes the finding that it opened") {
  MadeRun run = usual_run(20.0, kEuropean);
  run.fault(Channel::voltage_l3, during(600.0, 300.0, times(0.93)));
  const Outcome out =
      judge_by(run.scans(), run.plate().profile(), Feeding::scans);
  CHECK(loose_ends(out) == "");
}

TEST_CASE("voltage-unbalance: a leg that is not there is no unbalance") {
  MadeRun run = usual_run(20.0, kEuropean);
  run.missing(Channel::voltage_l3, 600.0, 900.0);
  CHECK(!judge(run).found(kSlug));
}

TEST_CASE("voltage-unbalance: a profile changes the limits") {
  CHECK(judge(uneven(4.0),
              with_limit(Plate{}.profile(), kSlug, {.attention = 4.5F}))
            .findings() == "");
}

}  // namespace
}  // namespace telltale::test
