#include "simulate/truth/data_book.hpp"

#include <cmath>

#include "catch.hpp"
#include "simulate/presets.hpp"
#include "simulate/write.hpp"

namespace telltale::host::sim {
namespace {

/// The verdict of that check in a log of 70 min with one fault, or none.
Verdict verdict_of(std::string_view check, Fault fault, double length = 4200.0,
                   double interval_s = 1.0) {
  Scenario scenario = *preset_scenario("split-8", 1, length, interval_s);
  scenario.faults = {fault};
  const Truth truth = truth_of(scenario).truth;
  for (const TrueRun& run : truth.runs) {
    for (const Verdict& v : run.verdicts) {
      if (v.check == check) return v;
    }
  }
  for (const Verdict& v : truth.log_verdicts) {
    if (v.check == check) return v;
  }
  return {};
}

Fault sensor(FaultKind kind, Channel channel, double size = 1.0,
             double until_s = INFINITY) {
  return {.kind = kind,
          .at_s = 2000.0,
          .size = size,
          .until_s = until_s,
          .channel = channel};
}

TEST_CASE("a gap counts from ten intervals and ten seconds") {
  using enum FaultKind;
  const Verdict gap =
      verdict_of("data-gap", {.kind = data_gap, .at_s = 2000.0, .size = 60.0});
  CHECK(gap.degree == Degree::note);
  CHECK(gap.value == Approx(61.0).margin(1.0));
  CHECK(verdict_of("data-gap", {.kind = data_gap, .at_s = 2000.0, .size = 8.0})
            .degree == Degree::none);
  CHECK(verdict_of("data-gap", {.kind = data_gap, .at_s = 2000.0, .size = 60.0},
                   4200.0, 10.0)
            .degree == Degree::none);
}

TEST_CASE("a clock step is one beyond disorder, or beyond a gap") {
  using enum FaultKind;
  const auto step = [](double size) {
    return verdict_of("clock-step",
                      {.kind = clock_step, .at_s = 2000.0, .size = size})
        .degree;
  };
  CHECK(step(3600.0) == Degree::note);
  CHECK(step(-3600.0) == Degree::note);
  CHECK(step(-30.0) == Degree::none);
  CHECK(step(300.0) == Degree::none);
}

TEST_CASE("frozen needs ten minutes and a truth that moves") {
  using enum FaultKind;
  CHECK(verdict_of("sensor-frozen", sensor(sensor_frozen, Channel::power))
            .degree == Degree::attention);
  CHECK(verdict_of("sensor-frozen",
                   sensor(sensor_frozen, Channel::power, 1.0, 2500.0))
            .degree == Degree::none);
  CHECK(verdict_of("sensor-frozen",
                   sensor(sensor_frozen, Channel::start_count, 1.0, 3000.0))
            .degree == Degree::none);
}

TEST_CASE("dropouts and spikes are graded by their share") {
  using enum FaultKind;
  const auto dropout = [](double size) {
    return verdict_of("sensor-dropout",
                      sensor(sensor_dropout, Channel::oil_pressure, size))
        .degree;
  };
  CHECK(dropout(0.5) == Degree::none);
  CHECK(dropout(6.0) == Degree::note);
  CHECK(dropout(60.0) == Degree::attention);
  const auto spike = [](double size) {
    return verdict_of("sensor-spike",
                      sensor(sensor_spike, Channel::oil_pressure, size))
        .degree;
  };
  CHECK(spike(0.3) == Degree::note);
  CHECK(spike(6.0) == Degree::attention);
}

TEST_CASE("the hour meter is held against running time") {
  using enum FaultKind;
  const auto off = [](double pct, double length) {
    return verdict_of("hours-mismatch", {.kind = hours_mismatch, .size = pct},
                      length)
        .degree;
  };
  CHECK(off(25.0, 4200.0) == Degree::note);   // 0.27 h
  CHECK(off(12.0, 4200.0) == Degree::none);   // 0.13 h
  CHECK(off(12.0, 10800.0) == Degree::note);  // 0.34 h
  CHECK(off(-4.0, 40000.0) == Degree::none);  // below 5 %
}

TEST_CASE("service is due by hours and by months") {
  const auto due = [](double done_h, const char* done_on) {
    Scenario scenario = *preset_scenario("split-8", 1, 600.0);
    scenario.set.hours = 1240.0;
    scenario.set.service = {{"oil", 200.0, 12, done_h, done_on}};
    const Truth truth = truth_of(scenario).truth;
    Degree degree = Degree::none;  // asked of the log's last stamp
    for (const Verdict& v : truth.log_verdicts) {
      if (v.check == "service-due") degree = v.degree;
    }
    return degree;
  };
  CHECK(due(1180.0, "2026-03-02") == Degree::none);
  CHECK(due(1055.0, "2026-03-02") == Degree::note);       // 185 h
  CHECK(due(1030.0, "2026-03-02") == Degree::attention);  // 210 h
  CHECK(due(1180.0, "2025-05-31") == Degree::attention);  // 12 months
  CHECK(due(1180.0, "2025-07-02") == Degree::none);  // 10 whole months of 12
}

TEST_CASE("alarms chatter, flood and stand by the contract's counts") {
  using enum FaultKind;
  CHECK(verdict_of("alarm-chatter",
                   {.kind = alarm_chatter, .at_s = 2000.0, .size = 6.0})
            .degree == Degree::attention);
  CHECK(verdict_of("alarm-chatter",
                   {.kind = alarm_chatter, .at_s = 2000.0, .size = 1.0})
            .degree == Degree::none);
  CHECK(verdict_of("alarm-flood",
                   {.kind = alarm_flood, .at_s = 2000.0, .size = 20.0})
            .degree == Degree::attention);
  CHECK(verdict_of("alarm-flood",
                   {.kind = alarm_flood, .at_s = 2000.0, .size = 6.0})
            .degree == Degree::none);
}

}  // namespace
}  // namespace telltale::host::sim
