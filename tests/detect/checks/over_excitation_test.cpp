// over-excitation: volts and frequency high together, as when a boost stage
// stays in; urgent: both above +5 % for 10 s; replaces the general findings of
// the same stretch (contract section 6).
#include "telltale/detect/checks/over_excitation.hpp"

#include "catch.hpp"
#include "judge.hpp"

namespace telltale::test {
namespace {

constexpr const char* kSlug = "over-excitation";

void lift_volts(MadeRun& run, double from, double s, double factor) {
  for (const Channel channel :
       {Channel::voltage_l1, Channel::voltage_l2, Channel::voltage_line}) {
    run.fault(channel, during(from, s, times(factor)));
  }
}
/// Volts and hertz high by so many percent for `s` seconds under load.
MadeRun boosted(double volts_pct, double hz_pct, double s) {
  MadeRun run = usual_run(20.0);
  run.turn(during(600.0, s, to(1.0 + hz_pct / 100.0)));
  lift_volts(run, 600.0, s, 1.0 + volts_pct / 100.0);
  return run;
}

// Trade facts (common practice): a boost stage of 5 s is no finding; held in
// at over 240 V and near 65 Hz it is over-excitation.
TEST_CASE("over-excitation: a boost of 5 s is none, held in it is urgent") {
  CHECK(judge(boosted(9.0, 8.3, 5.0)).findings() == "");
  const Outcome out = judge(boosted(9.0, 8.3, 60.0));
  CHECK(out.severity(kSlug) == Severity::urgent);
  const Told& told = *out.first(kSlug);
  CHECK(told.finding.unit == Unit::pct);
  CHECK(told.finding.limit == 5.0);
  CHECK(told.finding.value == Approx(8.3).margin(0.3));
  CHECK(told.since == 600.0);
  CHECK(told.at == Approx(610.0).margin(1.0));
}

TEST_CASE("over-excitation: the general findings of the stretch stay away") {
  CHECK(judge(boosted(9.0, 8.3, 60.0)).findings() == "over-excitation urgent");
}

TEST_CASE("over-excitation: both must be above 5 %") {
  CHECK(judge(boosted(4.8, 9.0, 60.0)).findings() == "frequency-high urgent");
  CHECK(!judge(boosted(9.0, 4.8, 60.0)).found(kSlug));
  CHECK(judge(boosted(5.2, 5.2, 60.0)).found(kSlug));
}

TEST_CASE("over-excitation: just before and just after the delay") {
  CHECK(!judge(boosted(8.0, 8.0, 9.0)).found(kSlug));
  CHECK(judge(boosted(8.0, 8.0, 12.0)).found(kSlug));
}

TEST_CASE("over-excitation: seen from the first moment at speed, unloaded") {
  MadeRun run;
  run.rest(60.0).start().load(0.0, 300.0).load(30.0, 600.0).stop();
  run.turn(during(66.0, 60.0, to(65.0 / 60.0)));
  lift_volts(run, 66.0, 60.0, 1.1);
  const Outcome out = judge(run);
  CHECK(out.severity(kSlug) == Severity::urgent);
  CHECK(out.first(kSlug)->since == Approx(66.0).margin(1.0));
}

TEST_CASE("over-excitation: 230 V 50 Hz single leg") {
  const Plate single{50.0, 2, 6.0, 230.0, 1, 12.0};
  MadeRun run = usual_run(20.0, single);
  run.turn(during(600.0, 60.0, to(54.0 / 50.0)))
      .fault(Channel::voltage_l1, during(600.0, 60.0, to(252.0)));
  CHECK(judge(run).findings() == "over-excitation urgent");
}

TEST_CASE("over-excitation: blind where a nominal figure is unknown") {
  Profile profile = Plate{}.profile();
  profile.rating.voltage_v = kUnknown;
  const Outcome out = judge(boosted(9.0, 8.3, 60.0), profile);
  CHECK(!out.found(kSlug));
  CHECK(out.blind(kSlug) == Blind::no_nominal);
  // Frequency alone is still too high.
  CHECK(out.severity("frequency-high") == Severity::urgent);
}

// Where only the second leg carries a voltage column, or the first reads low,
// any leg above the limit together with frequency is over-excitation.
TEST_CASE("over-excitation: any leg will do") {
  MadeRun run = boosted(9.0, 8.3, 60.0);
  run.without(Channel::voltage_l1).without(Channel::voltage_line);
  CHECK(judge(run).found(kSlug));
}

// Opened under the line's name, closed under L1's: two findings of one fault.
TEST_CASE("over-excitation: closes the finding that it opened") {
  MadeRun run = boosted(9.0, 8.3, 1e6);
  run.without(Channel::voltage_l1).without(Channel::voltage_l2);
  const Outcome out =
      judge_by(run.scans(), run.plate().profile(), Feeding::scans);
  CHECK(loose_ends(out) == "");
}

TEST_CASE("over-excitation: the line will do where no leg is logged") {
  MadeRun run = boosted(9.0, 8.3, 60.0);
  run.without(Channel::voltage_l1).without(Channel::voltage_l2);
  CHECK(judge(run).findings() == "over-excitation urgent");
}

}  // namespace
}  // namespace telltale::test
