// abrupt-stop: speed fell from on-load with no unloading, after an alarm or a
// channel out of band, or with no sign of a controlled stop; names the channel
// that left its own band first; never together with stop-under-load (contract
// section 6).
#include "telltale/detect/checks/abrupt_stop.hpp"

#include "catch.hpp"
#include "judge.hpp"

namespace telltale::test {
namespace {

constexpr const char* kSlug = "abrupt-stop";
constexpr double kStop = 1600.0;

/// On load until it stops at 1600 s.
MadeRun tripped(double coast_s = 8.0) {
  MadeRun run;
  run.rest(60.0).start().warm().load(50.0, kStop - 396.0);
  return run.coast(coast_s).rest(60.0);
}
Channel first_out(const Outcome& out) {
  const double index = out.first(kSlug)->finding.detail[0];
  return index >= 0 ? static_cast<Channel>(static_cast<int>(index))
                    : Channel::none;
}

TEST_CASE("abrupt-stop: after an alarm") {
  MadeRun run = tripped();
  run.alarm(0, kStop - 2.0, kStop + 30.0);
  const Outcome out = judge(run);
  CHECK(out.findings() == "abrupt-stop urgent");
  const Told& told = *out.first(kSlug);
  CHECK(told.finding.value == Approx(50.0).margin(0.5));
  CHECK(told.since == Approx(kStop).margin(2.0));
}

TEST_CASE("abrupt-stop: a fault state does as well") {
  MadeRun run = tripped();
  run.with_state().state(EngineState::fault, kStop, kStop + 60.0);
  CHECK(judge(run).severity(kSlug) == Severity::urgent);
}

TEST_CASE("abrupt-stop: at rest within an interval, no sign of control") {
  MadeRun run = tripped(1.0);
  const Outcome out = judge(run);
  CHECK(out.severity(kSlug) == Severity::urgent);
  CHECK(!out.found("stop-under-load"));
}

TEST_CASE("abrupt-stop: the channel that left its band first is named") {
  struct Case {
    Channel channel;
    double before;
    double factor;
  };
  for (const Case& c : {Case{Channel::oil_pressure, 20.0, 0.4},
                        Case{Channel::coolant_temperature, 120.0, 1.27},
                        Case{Channel::exhaust_temperature, 60.0, 1.7},
                        Case{Channel::battery_voltage, 90.0, 0.8}}) {
    INFO(info_of(c.channel).slug);
    MadeRun run = tripped();
    run.fault(c.channel, since(kStop - c.before, times(c.factor)));
    const Outcome out = judge(run);
    REQUIRE(out.severity(kSlug) == Severity::urgent);
    CHECK(first_out(out) == c.channel);
    CHECK(out.first(kSlug)->finding.detail[1] == Approx(c.before).margin(5.0));
  }
}

TEST_CASE("abrupt-stop: of two channels the first counts") {
  MadeRun run = tripped();
  run.fault(Channel::exhaust_temperature, since(kStop - 200.0, by(40.0)))
      .fault(Channel::coolant_temperature, creeping(kStop - 150.0, 140.0, 20.0))
      .fault(Channel::oil_pressure, since(kStop - 5.0, times(0.5)));
  const Outcome out = judge(run);
  REQUIRE(out.found(kSlug));
  CHECK(first_out(out) == Channel::exhaust_temperature);
}

TEST_CASE("abrupt-stop: unloading first is no abrupt stop") {
  MadeRun run;
  run.rest(60.0).start().warm().load(50.0, 900.0).load(0.0, 60.0);
  run.coast(1.0).rest(60.0);
  CHECK(!judge(run).found(kSlug));
}

TEST_CASE("abrupt-stop: a protection that opens the breaker a moment before") {
  MadeRun run;
  run.rest(60.0).start().warm().load(50.0, 900.0).load(0.0, 1.0);
  run.coast(8.0).rest(60.0);
  run.fault(Channel::oil_pressure, since(1280.0, times(0.4)));
  CHECK(judge(run).severity(kSlug) == Severity::urgent);
}

TEST_CASE("abrupt-stop: it never stands beside stop-under-load") {
  for (const double coast : {1.0, 2.0, 4.0, 8.0, 20.0}) {
    for (const bool alarm : {false, true}) {
      for (const bool state : {false, true}) {
        MadeRun run = tripped(coast);
        if (alarm) run.alarm(0, kStop - 2.0, kStop + 30.0);
        if (state) run.with_state();
        const Outcome out = judge(run);
        INFO("coast " << coast << " alarm " << alarm << " state " << state);
        CHECK(out.found(kSlug) != out.found("stop-under-load"));
        if (alarm) CHECK(out.found(kSlug));
      }
    }
  }
}

TEST_CASE("abrupt-stop: a gap over the stop hides it") {
  MadeRun run = tripped();
  run.alarm(0, kStop - 10.0, kStop + 60.0).gap(kStop - 5.0, kStop + 20.0);
  const Outcome out = judge(run);
  CHECK(!out.found(kSlug));
  CHECK(out.blind(kSlug) == Blind::stop_not_seen);
}

TEST_CASE("abrupt-stop: stopping unloaded with an alarm is none") {
  MadeRun run;
  run.rest(60.0).start().load(0.0, 600.0).coast(2.0).rest(60.0);
  run.alarm(0, 650.0, 700.0);
  CHECK(!judge(run).found(kSlug));
}

TEST_CASE("abrupt-stop: by amps alone, without a rating") {
  MadeRun run = tripped();
  run.without(Channel::power).alarm(0, kStop - 2.0, kStop + 30.0);
  Profile profile = run.plate().profile();
  profile.rating = Rating{};
  profile.rating.frequency_hz = 60.0F;
  profile.rating.poles = 2;
  CHECK(judge(run, profile).severity(kSlug) == Severity::urgent);
}

}  // namespace
}  // namespace telltale::test
