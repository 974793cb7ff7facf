// sensor-frozen: bit-identical for over 10 min while what it must follow moves,
// and resolution does not explain it; attention (contract section 6).
#include "telltale/detect/checks/sensor_frozen.hpp"

#include <memory>

#include "catch.hpp"
#include "judge.hpp"

namespace telltale::test {
namespace {

constexpr const char* kSlug = "sensor-frozen";

/// Reads what it read at `from` for `s` seconds.
MadeRun& freeze(MadeRun& run, Channel channel, double from, double s) {
  auto held = std::make_shared<double>(0.0);
  return run.fault(channel, [=](const Scene& scene, double x) {
    if (scene.t < from || scene.t >= from + s) {
      *held = x;
      return x;
    }
    return *held;
  });
}
MadeRun lively() {
  MadeRun run = usual_run(60.0);
  run.noise(Channel::oil_pressure, 4.0, 1)
      .noise(Channel::battery_voltage, 0.05, 2)
      .noise(Channel::voltage_l1, 0.6, 3)
      .noise(Channel::coolant_temperature, 0.3, 4);
  return run;
}

TEST_CASE("sensor-frozen: a lively channel that stands still for 10 min") {
  for (const Channel channel :
       {Channel::oil_pressure, Channel::battery_voltage, Channel::voltage_l1,
        Channel::coolant_temperature}) {
    INFO(info_of(channel).slug);
    MadeRun run = lively();
    const Outcome out = judge(freeze(run, channel, 1500.0, 1500.0));
    CHECK(out.findings() == "sensor-frozen attention");
    const Told& told = *out.first(kSlug);
    CHECK(told.finding.channel == channel);
    CHECK(told.finding.unit == Unit::s);
    CHECK(told.finding.value >= 600.0);
    CHECK(told.finding.limit == 600.0);
    CHECK(told.since == Approx(1500.0).margin(2.0));
    CHECK(told.at == Approx(2100.0).margin(3.0));
  }
}

TEST_CASE("sensor-frozen: nine and a half minutes are none") {
  MadeRun run = lively();
  CHECK(judge(freeze(run, Channel::oil_pressure, 1500.0, 570.0)).findings() ==
        "");
}

TEST_CASE("sensor-frozen: what it must follow moves") {
  // No noise at all: the exhaust stands still while the load goes up and down.
  MadeRun run;
  run.rest(60.0).start().warm().load(20.0, 900.0).load(80.0, 1200.0);
  run.load(20.0, 900.0).stop();
  CHECK(judge(freeze(run, Channel::exhaust_temperature, 1200.0, 1500.0))
            .first(kSlug)
            ->finding.channel == Channel::exhaust_temperature);
}

// A quiet channel gives itself away when the engine stands and it does not; and
// no stop under load is read off it.
TEST_CASE("sensor-frozen: still there when the set has come to rest") {
  for (const Channel channel : {Channel::power, Channel::voltage_l1}) {
    INFO(info_of(channel).slug);
    MadeRun run = usual_run(30.0);
    run.without(Channel::fuel_rate).without(Channel::current_l1);
    const Outcome out = judge(freeze(run, channel, 900.0, 1e9));
    REQUIRE(out.found(kSlug));
    const Told& told = *out.first(kSlug);
    CHECK(told.finding.channel == channel);
    CHECK(told.finding.run != 0);
    CHECK(told.since < 915.0);
  }
  // Ten minutes are needed here, too.
  MadeRun run = usual_run(30.0);
  CHECK(!judge(freeze(run, Channel::voltage_l1, 1900.0, 1e9)).found(kSlug));
}

TEST_CASE("sensor-frozen: the same at rest and running") {
  // Battery volts that read 12.70 from before the start on.
  MadeRun run = usual_run(20.0);
  run.fault(Channel::battery_voltage, since(30.0, to(12.70)));
  const Outcome out = judge(run);
  REQUIRE(out.found(kSlug));
  CHECK(out.first(kSlug)->finding.channel == Channel::battery_voltage);
}

TEST_CASE("sensor-frozen: from then on no other check judges the channel") {
  // Frozen at 12.5 V: not 'not charging', but nothing at all.
  MadeRun run = lively();
  freeze(run.fault(Channel::battery_voltage, during(1500.0, 2300.0, by(-1.7))),
         Channel::battery_voltage, 1501.0, 2300.0);
  const Outcome out = judge(run);
  CHECK(out.found(kSlug));
  // What came before the ten minutes were full may have been told.
  for (const Told& told : out.told) {
    if (told.finding.event == FindingEvent::closed) continue;
    CHECK((told.slug == kSlug || told.at <= 2120.0));
  }
}

// A median of 60 s has no use for means of half an hour ago.
TEST_CASE("sensor-frozen: what stood when it froze does not go on") {
  MadeRun run = lively();
  freeze(run.fault(Channel::battery_voltage, during(1500.0, 2300.0, by(-1.7))),
         Channel::battery_voltage, 1501.0, 2300.0);
  CHECK(judge(run).last("charging-low")->until <= 2120.0);
}

TEST_CASE("sensor-frozen: resolution explains standing still") {
  // Whole volts, tenths of a volt, whole bar: they may well stand.
  MadeRun run = usual_run(60.0);
  run.resolution(Channel::voltage_l1, 1.0)
      .resolution(Channel::voltage_l2, 1.0)
      .resolution(Channel::voltage_line, 1.0)
      .resolution(Channel::battery_voltage, 0.1)
      .resolution(Channel::frequency, 0.1)
      .resolution(Channel::engine_speed, 10.0)
      .resolution(Channel::winding_temperature, 1.0);
  CHECK(judge(run).findings() == "");
}

TEST_CASE("sensor-frozen: standing still at rest is what readings do") {
  MadeRun run = lively();
  run.rest(7200.0);
  CHECK(judge(run).findings() == "");
}

TEST_CASE("sensor-frozen: idle amps stand at zero") {
  MadeRun run;
  run.rest(60.0).start().warm().load(0.0, 1800.0).stop();
  CHECK(judge(run).findings() == "");
}

TEST_CASE("sensor-frozen: it may thaw and freeze again") {
  MadeRun run = usual_run(90.0);
  run.noise(Channel::oil_pressure, 4.0, 1);
  freeze(run, Channel::oil_pressure, 1000.0, 900.0);
  freeze(run, Channel::oil_pressure, 3000.0, 900.0);
  const Outcome out = judge(run);
  int times = 0;
  for (const Told& told : out.told) times += told.slug == kSlug ? 1 : 0;
  CHECK(times == 2);
}

}  // namespace
}  // namespace telltale::test
