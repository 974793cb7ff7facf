// sensor-spike: single readings far off both neighbours; note; attention from
// 1 % of readings (contract section 6).
#include "telltale/detect/checks/sensor_spike.hpp"

#include "catch.hpp"
#include "judge.hpp"

namespace telltale::test {
namespace {

constexpr const char* kSlug = "sensor-spike";

TEST_CASE("sensor-spike: one of them is a note") {
  struct Case {
    Channel channel;
    double value;
  };
  for (const Case& c :
       {Case{Channel::coolant_temperature, 140.0},
        Case{Channel::oil_pressure, 20.0}, Case{Channel::battery_voltage, 3.0},
        Case{Channel::exhaust_temperature, 200.0},
        Case{Channel::frequency, 5.0}, Case{Channel::voltage_l1, 12.0},
        Case{Channel::oil_temperature, 20.0}, Case{Channel::fuel_level, 3.0},
        Case{Channel::engine_speed, 200.0}, Case{Channel::power, 400.0}}) {
    INFO(info_of(c.channel).slug);
    const Outcome out =
        judge(usual_run(20.0).single(c.channel, 900.0, c.value));
    CHECK(out.findings() == "sensor-spike note");
    const Told& told = *out.first(kSlug);
    CHECK(told.finding.channel == c.channel);
    CHECK(told.since == 900.0);
    CHECK(told.finding.detail[0] == 1.0);
    CHECK(told.finding.detail[2] == c.value);
  }
}

TEST_CASE("sensor-spike: attention from 1 % of the readings") {
  const auto with = [](double every) {
    MadeRun run = usual_run(20.0);
    run.fault(Channel::oil_pressure, [=](const Scene& s, double x) {
      const auto i = static_cast<long>(s.t + 0.5);
      const auto n = static_cast<long>(every);
      return s.stage == Stage::run && i % n == 0 ? x + 250.0 : x;
    });
    return judge(run).severity(kSlug);
  };
  CHECK(with(150.0) == Severity::note);
  CHECK(with(40.0) == Severity::attention);
}

TEST_CASE("sensor-spike: what lasts two readings is none") {
  MadeRun run = usual_run(20.0);
  run.fault(Channel::oil_pressure, during(900.0, 2.0, to(20.0)));
  CHECK(!judge(run).found(kSlug));
}

TEST_CASE("sensor-spike: a motor that starts is none") {
  // Amps fivefold, volts and hertz give way, for one reading.
  MadeRun run = usual_run(20.0);
  for (const double at : {900.0, 1000.0, 1100.0}) {
    run.single(Channel::current_l1, at, 100.0)
        .single(Channel::current_l2, at, 100.0)
        .single(Channel::power, at, 18.0)
        .single(Channel::voltage_l1, at, 104.0)
        .single(Channel::voltage_l2, at, 104.0)
        .single(Channel::voltage_line, at, 208.0)
        .single(Channel::frequency, at, 57.5)
        .single(Channel::engine_speed, at, 3450.0);
  }
  CHECK(judge(run).findings() == "");
}

TEST_CASE("sensor-spike: ordinary noise is none") {
  MadeRun run = usual_run(30.0);
  run.noise(Channel::oil_pressure, 25.0, 3)
      .noise(Channel::exhaust_temperature, 4.0, 4)
      .noise(Channel::coolant_temperature, 1.5, 5)
      .noise(Channel::battery_voltage, 0.3, 6);
  CHECK(!judge(run).found(kSlug));
}

TEST_CASE("sensor-spike: no other check judges it") {
  // Two spikes in a row of an odd one each: no oil-pressure-low, no jump.
  MadeRun run = usual_run(20.0);
  for (double at = 900.0; at < 1000.0; at += 4.0) {
    run.single(Channel::oil_pressure, at, 10.0);
  }
  const Outcome out = judge(run);
  CHECK(!out.found("oil-pressure-low"));
  CHECK(!out.found("oil-pressure-unsteady"));
}

TEST_CASE("sensor-spike: the last reading of a log has no neighbour after") {
  MadeRun run;
  run.rest(60.0).start().warm().load(50.0, 600.0);
  run.single(Channel::coolant_temperature, run.now(), 140.0);
  CHECK(judge(run).findings() == "");
}

TEST_CASE("sensor-spike: a profile changes the share") {
  MadeRun run = usual_run(20.0);
  run.fault(Channel::oil_pressure, [=](const Scene& s, double x) {
    const bool odd = static_cast<long>(s.t + 0.5) % 40 == 0;
    return s.stage == Stage::run && odd ? x + 250.0 : x;
  });
  CHECK(judge(run, with_limit(Plate{}.profile(), kSlug, {.attention = 5.0F}))
            .severity(kSlug) == Severity::note);
}

}  // namespace
}  // namespace telltale::test
