// sensor-range: outside what is physically possible for the channel; attention
// (contract section 6; ranges in acquire/channels.def).
#include "telltale/detect/checks/sensor_range.hpp"

#include "catch.hpp"
#include "judge.hpp"

namespace telltale::test {
namespace {

constexpr const char* kSlug = "sensor-range";

TEST_CASE("sensor-range: every channel, both ends, just in and just out") {
  for (const ChannelInfo& info : kChannels) {
    INFO(info.slug);
    const double low = static_cast<double>(info.low);
    const double high = static_cast<double>(info.high);
    const double hair = (high - low) * 1e-3;
    const auto found = [&](double value) {
      MadeRun run = usual_run(5.0);
      run.with(info.channel).fault(info.channel, during(500.0, 8.0, to(value)));
      const Outcome out =
          judge_by(run.scans(), run.plate().profile(), Feeding::scans);
      const Told* told = out.first(kSlug);
      if (told != nullptr) {
        CHECK(told->finding.channel == info.channel);
        CHECK(told->finding.unit == info.unit);
        CHECK(told->finding.value == value);
        CHECK(told->finding.limit ==
              Approx(value > high ? high : low).margin(1e-4));
        CHECK(told->finding.severity == Severity::attention);
      }
      return told != nullptr;
    };
    CHECK(!found(low));
    CHECK(!found(high));
    CHECK(found(low - hair));
    CHECK(found(high + hair));
  }
}

TEST_CASE("sensor-range: a few readings, not two") {
  for (const double s : {2.0, 4.0}) {
    MadeRun run = usual_run(5.0);
    run.fault(Channel::coolant_temperature, during(500.0, s, to(900.0)));
    CHECK(judge(run).found(kSlug) == (s > 2.5));
  }
}

// The last of several impossible readings in a row is no 'single reading far
// off both neighbours': the one before it reads the same.
TEST_CASE("sensor-range: a stretch that cannot be ends in no spike") {
  MadeRun run = usual_run(5.0);
  run.fault(Channel::coolant_temperature, during(500.0, 3.0, to(900.0)));
  CHECK(judge(run).findings() == "sensor-range attention");
}

TEST_CASE("sensor-range: no other check judges what cannot be") {
  MadeRun run = usual_run(20.0);
  run.fault(Channel::coolant_temperature, during(900.0, 300.0, to(900.0)))
      .fault(Channel::oil_pressure, during(900.0, 300.0, to(-100.0)))
      .fault(Channel::battery_voltage, during(900.0, 300.0, to(99.0)));
  const Outcome out = judge(run);
  CHECK(out.severity(kSlug) == Severity::attention);
  for (const char* slug :
       {"coolant-high", "oil-pressure-low", "charging-high", "abrupt-stop"}) {
    CHECK(!out.found(slug));
  }
  CHECK(out.first(kSlug, Channel::coolant_temperature) != nullptr);
  CHECK(out.first(kSlug, Channel::oil_pressure) != nullptr);
  CHECK(out.first(kSlug, Channel::battery_voltage) != nullptr);
}

TEST_CASE("sensor-range: at rest as well") {
  MadeRun run;
  run.rest(300.0).fault(Channel::coolant_temperature,
                        during(100.0, 60.0, to(400.0)));
  const Outcome out = judge(run);
  REQUIRE(out.found(kSlug));
  CHECK(out.first(kSlug)->finding.run == 0);
}

TEST_CASE("sensor-range: a profile changes the number") {
  MadeRun run = usual_run(5.0);
  run.fault(Channel::coolant_temperature, during(500.0, 5.0, to(900.0)));
  CHECK(!judge(run, with_limit(Plate{}.profile(), kSlug, {.attention = 10.0F}))
             .found(kSlug));
}

}  // namespace
}  // namespace telltale::test
