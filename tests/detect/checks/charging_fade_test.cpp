// charging-fade: a continuing fall, the first 10 min left out, still falling in
// the last third or ending below 13.2 V; one step down to a level that holds at
// 13.2 V or above is a charger going to float and no finding; attention > 0.3 V
// between the settled 5 min and the last 5 min, and significant (contract
// section 6).
#include "telltale/detect/checks/charging_fade.hpp"

#include <cmath>

#include "catch.hpp"
#include "judge.hpp"

namespace telltale::test {
namespace {

constexpr const char* kSlug = "charging-fade";

MadeRun fading(double volts, double from, double s, double minutes = 100.0,
               const Plate& plate = {}) {
  MadeRun run = usual_run(minutes, plate);
  run.fault(Channel::battery_voltage, creeping(from, s, -volts))
      .noise(Channel::battery_voltage, 0.05, 11);
  return run;
}

TEST_CASE("charging-fade: a fall that goes on") {
  CHECK(judge(fading(0.25, 1200.0, 5200.0)).findings() == "");
  const Outcome out = judge(fading(0.9, 1200.0, 5200.0));
  CHECK(out.findings() == "charging-fade attention");
  const Told& told = *out.last(kSlug);
  CHECK(told.finding.channel == Channel::battery_voltage);
  CHECK(told.finding.unit == Unit::V);
  CHECK(told.finding.limit == Approx(0.3));
  CHECK(told.finding.value == Approx(0.9).margin(0.1));
  CHECK(told.finding.detail[0] == Approx(14.1).margin(0.05));
}

// 0.6 V in an hour and a half, significant and still falling at the end: the
// contract asks for no more than 0.3 V and 'still falling in the last third'.
TEST_CASE("charging-fade: a slow fall that goes on is one too") {
  CHECK(judge(fading(0.5, 1200.0, 5200.0)).found(kSlug));
  CHECK(judge(fading(0.6, 1200.0, 5200.0)).found(kSlug));
  CHECK(judge(fading(0.7, 2000.0, 5200.0)).found(kSlug));
}

TEST_CASE("charging-fade: a fall that ends below 13.2 V") {
  // Down to 13.1 V within ten minutes, and level from there on.
  CHECK(judge(fading(1.0, 2400.0, 600.0)).found(kSlug));
}

TEST_CASE("charging-fade: a charger going to float is none") {
  for (const double level : {13.8, 13.5, 13.25}) {
    INFO(level);
    MadeRun step = usual_run(100.0);
    step.fault(Channel::battery_voltage, since(2400.0, by(level - 14.1)));
    CHECK(judge(step).findings() == "");
    MadeRun ramp = fading(14.1 - level, 2400.0, 300.0);
    CHECK(judge(ramp).findings() == "");
  }
}

TEST_CASE("charging-fade: a battery that fills up is none") {
  // An exponential that runs out, from 14.4 to 13.9 V, time constant 10 min.
  MadeRun run = usual_run(100.0);
  run.fault(Channel::battery_voltage, [](const Scene& s, double x) {
    return s.ran > 0.0 ? 13.9 + 0.5 * std::exp(-s.ran / 600.0) : x;
  });
  CHECK(judge(run).findings() == "");
}

TEST_CASE("charging-fade: the first ten minutes are left out") {
  // 0.6 V down within the first nine minutes, then level.
  CHECK(judge(fading(0.6, 123.0, 520.0)).findings() == "");
}

TEST_CASE("charging-fade: noise is not significant") {
  for (std::uint32_t seed = 1; seed <= 5; ++seed) {
    MadeRun run = usual_run(80.0);
    run.noise(Channel::battery_voltage, 0.25, seed);
    CHECK(judge(run).findings() == "");
  }
}

TEST_CASE("charging-fade: 24 V doubles") {
  CHECK(judge(fading(0.55, 1200.0, 5200.0, 100.0, kEuropean)).findings() == "");
  CHECK(judge(fading(1.8, 1200.0, 5200.0, 100.0, kEuropean)).findings() ==
        "charging-fade attention");
}

TEST_CASE("charging-fade: blind in a short run") {
  const Outcome out = judge(fading(0.5, 700.0, 300.0, 8.0));
  CHECK(!out.found(kSlug));
  CHECK(out.blind(kSlug) == Blind::too_short);
}

TEST_CASE("charging-fade: the same at 10 s and 60 s") {
  for (const double interval : {10.0, 60.0}) {
    CHECK(judge(fading(0.9, 1200.0, 5200.0).every(interval)).findings() ==
          "charging-fade attention");
  }
}

TEST_CASE("charging-fade: a profile changes the limit") {
  CHECK(judge(fading(0.9, 1200.0, 5200.0),
              with_limit(Plate{}.profile(), kSlug, {.attention = 1.2F}))
            .findings() == "");
}

}  // namespace
}  // namespace telltale::test
