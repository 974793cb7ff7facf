// sensor-dropout: missing or sentinel readings, share of the rows while
// running; note > 1 % of readings or 10 s in a row, attention > 10 % (contract
// section 6).
#include "telltale/detect/checks/sensor_dropout.hpp"

#include <limits>

#include "catch.hpp"
#include "judge.hpp"

namespace telltale::test {
namespace {

constexpr const char* kSlug = "sensor-dropout";
constexpr double kMissing = std::numeric_limits<double>::quiet_NaN();

/// `share` percent of the coolant's readings are missing, one at a time.
Severity scattered(int every) {
  MadeRun run = usual_run(30.0);
  run.fault(Channel::coolant_temperature, [=](const Scene& s, double x) {
    const bool out = static_cast<long>(s.t + 0.5) % every == 0;
    return s.stage == Stage::run && out ? kMissing : x;
  });
  return judge(run).severity(kSlug);
}

TEST_CASE("sensor-dropout: above 1 % and above 10 % of the readings") {
  CHECK(scattered(110) == Severity::not_judged);
  CHECK(scattered(90) == Severity::note);
  CHECK(scattered(11) == Severity::note);
  CHECK(scattered(9) == Severity::attention);
}

TEST_CASE("sensor-dropout: 10 s in a row") {
  const auto streak = [](double s) {
    MadeRun run = usual_run(60.0);
    run.missing(Channel::oil_pressure, 1500.0, 1500.0 + s);
    return judge(run);
  };
  CHECK(streak(8.0).findings() == "");
  const Outcome out = streak(12.0);
  CHECK(out.findings() == "sensor-dropout note");
  const Told& told = *out.last(kSlug);
  CHECK(told.finding.channel == Channel::oil_pressure);
  CHECK(told.finding.unit == Unit::pct);
  CHECK(told.finding.detail[0] == 12.0);
  CHECK(told.finding.detail[1] == Approx(12.0).margin(1.0));
  CHECK(told.since == Approx(1500.0).margin(1.0));
  CHECK(told.until == Approx(1511.0).margin(1.0));
}

TEST_CASE("sensor-dropout: a third of the run gone is for attention") {
  MadeRun run = usual_run(30.0);
  run.missing(Channel::battery_voltage, 1000.0, 1700.0);
  const Outcome out = judge(run);
  CHECK(out.findings() == "sensor-dropout attention");
  CHECK(out.last(kSlug)->finding.value ==
        Approx(100.0 * 700.0 / (30.0 * 60.0 + 516.0)).margin(1.0));
}

TEST_CASE("sensor-dropout: at rest readings may be missing") {
  MadeRun run;
  run.rest(600.0).start().warm().stop().rest(600.0);
  run.missing(Channel::oil_pressure, 0.0, 590.0)
      .missing(Channel::coolant_temperature, 0.0, 590.0);
  CHECK(judge(run).findings() == "");
}

TEST_CASE("sensor-dropout: a slow channel is not missing") {
  MadeRun run = usual_run(30.0);
  run.channel_every(Channel::coolant_temperature, 5.0)
      .channel_every(Channel::fuel_level, 10.0);
  CHECK(judge(run).findings() == "");
}

TEST_CASE("sensor-dropout: three readings at least") {
  // Two of sixty: 3 %, and 120 s, but two readings.
  MadeRun run = usual_run(60.0).every(60.0);
  run.missing(Channel::coolant_temperature, 1500.0, 1615.0);
  CHECK(judge(run).findings() == "");
}

TEST_CASE("sensor-dropout: each channel by itself") {
  MadeRun run = usual_run(30.0);
  run.missing(Channel::oil_pressure, 1500.0, 1520.0)
      .missing(Channel::coolant_temperature, 1000.0, 1500.0);
  const Outcome out = judge(run);
  CHECK(out.last(kSlug, Channel::oil_pressure)->finding.severity ==
        Severity::note);
  CHECK(out.last(kSlug, Channel::coolant_temperature)->finding.severity ==
        Severity::attention);
}

TEST_CASE("sensor-dropout: a profile changes the shares") {
  MadeRun run = usual_run(30.0);
  run.missing(Channel::battery_voltage, 1000.0, 1700.0);
  CHECK(judge(run, with_limit(Plate{}.profile(), kSlug, {.attention = 50.0F}))
            .severity(kSlug) == Severity::note);
}

}  // namespace
}  // namespace telltale::test
