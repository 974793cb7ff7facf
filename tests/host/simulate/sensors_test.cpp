#include "simulate/sensors.hpp"

#include <cmath>
#include <vector>

#include "catch.hpp"

namespace telltale::host::sim {
namespace {

SensorSpec oil(double noise = 0.0) {
  SensorSpec spec;
  spec.channel = Channel::oil_pressure;
  spec.unit = LogUnit::psi;
  spec.resolution = 0.5;
  spec.noise = noise;
  return spec;
}

SensorSpec coolant() {
  SensorSpec spec;
  spec.channel = Channel::coolant_temperature;
  spec.unit = LogUnit::degF;
  spec.resolution = 1.0;
  return spec;
}

Snapshot running(double t, double kpa = 275.79, double celsius = 82.0) {
  Snapshot s;
  s.t = t;
  s.phase = TruePhase::on_load;
  s.value.fill(std::nan(""));
  s.value[index_of(Channel::oil_pressure)] = kpa;
  s.value[index_of(Channel::coolant_temperature)] = celsius;
  return s;
}

Scenario with(std::vector<SensorSpec> sensors, std::vector<Fault> faults = {}) {
  Scenario scenario;
  scenario.seed = 3;
  scenario.sensors = std::move(sensors);
  scenario.faults = std::move(faults);
  return scenario;
}

// 275.79 kPa are 40.0 psi, 82 degC are 179.6 degF.
TEST_CASE("readings are whole steps in the unit of the log") {
  const Scenario scenario = with({oil(), coolant()});
  SensorBank bank(scenario);
  Sample sample;
  bank.read(running(0.0), sample);
  CHECK(sample.present == 3);
  CHECK(sample.steps[0] == 80);   // of 0.5 psi
  CHECK(sample.steps[1] == 180);  // of 1 degF
}

TEST_CASE("noise has the spread it is given and no bias") {
  SensorSpec spec = oil(6.0);
  spec.unit = LogUnit::kPa;
  spec.resolution = 0.01;
  const Scenario scenario = with({spec});
  SensorBank bank(scenario);
  Sample sample;
  double sum = 0.0;
  double squares = 0.0;
  constexpr int kRows = 20000;
  for (int i = 0; i < kRows; ++i) {
    bank.read(running(i), sample);
    const double error = static_cast<double>(sample.steps[0]) * 0.01 - 275.79;
    sum += error;
    squares += error * error;
  }
  CHECK(sum / kRows == Approx(0.0).margin(0.2));
  CHECK(std::sqrt(squares / kRows) == Approx(6.0).epsilon(0.03));
}

TEST_CASE("a lag follows a step by 1 - 1/e after its time constant") {
  SensorSpec spec = coolant();
  spec.unit = LogUnit::degC;
  spec.resolution = 0.01;
  spec.lag_s = 20.0;
  const Scenario scenario = with({spec});
  SensorBank bank(scenario);
  Sample sample;
  for (int i = 0; i <= 200; ++i) {
    bank.read(running(0.1 * i, 275.0, 60.0), sample);
  }
  for (int i = 1; i <= 200; ++i) {
    bank.read(running(20.0 + 0.1 * i, 275.0, 70.0), sample);
  }
  CHECK(static_cast<double>(sample.steps[0]) * 0.01 ==
        Approx(60.0 + 10.0 * (1.0 - std::exp(-1.0))).margin(0.05));
}

TEST_CASE("a sensor of its own pace repeats its reading in between") {
  SensorSpec spec = oil(20.0);
  spec.period_s = 5.0;
  const Scenario scenario = with({spec});
  SensorBank bank(scenario);
  Sample sample;
  std::int64_t last = 0;
  int changes = 0;
  for (int i = 0; i < 100; ++i) {
    bank.read(running(i), sample);
    if (sample.steps[0] != last) ++changes;
    last = sample.steps[0];
  }
  CHECK(changes <= 20);
  CHECK(changes > 12);
}

TEST_CASE("a frozen sensor is bit-identical from its onset") {
  Fault fault{.kind = FaultKind::sensor_frozen, .at_s = 50.0};
  fault.channel = Channel::oil_pressure;
  const Scenario scenario = with({oil(20.0), coolant()}, {fault});
  SensorBank bank(scenario);
  Sample sample;
  for (int i = 0; i < 50; ++i) bank.read(running(i), sample);
  const std::int64_t held = sample.steps[0];
  for (int i = 50; i < 200; ++i) {
    bank.read(running(i, 200.0, 60.0), sample);
    CHECK(sample.steps[0] == held);
  }
  CHECK(sample.steps[1] == 140);  // 60 degC: the other one goes on
}

TEST_CASE("an open sender reads what no engine can") {
  Fault fault{.kind = FaultKind::sensor_range, .at_s = 0.0};
  fault.channel = Channel::coolant_temperature;
  const Scenario scenario = with({coolant()}, {fault});
  SensorBank bank(scenario);
  Sample sample;
  bank.read(running(1.0), sample);
  const double celsius = (static_cast<double>(sample.steps[0]) - 32.0) / 1.8;
  CHECK(celsius >
        static_cast<double>(info_of(Channel::coolant_temperature).high));
}

TEST_CASE("spikes are single readings far off both neighbours") {
  Fault fault{.kind = FaultKind::sensor_spike, .at_s = 0.0, .size = 2.0};
  fault.channel = Channel::oil_pressure;
  const Scenario scenario = with({oil(2.0)}, {fault});
  SensorBank bank(scenario);
  Sample sample;
  std::vector<double> psi;
  for (int i = 0; i < 20000; ++i) {
    bank.read(running(i), sample);
    psi.push_back(0.5 * static_cast<double>(sample.steps[0]));
  }
  int spikes = 0;
  for (double value : psi) spikes += std::abs(value - 40.0) > 30.0 ? 1 : 0;
  CHECK(spikes == Approx(400).margin(60));
  CHECK(static_cast<int>(bank.tallies()[0].spikes) == spikes);
}

TEST_CASE("dropouts take their share of the rows, in short bursts") {
  Fault fault{.kind = FaultKind::sensor_dropout, .at_s = 0.0, .size = 20.0};
  fault.channel = Channel::oil_pressure;
  const Scenario scenario = with({oil(2.0)}, {fault});
  SensorBank bank(scenario);
  Sample sample;
  int missing = 0;
  int bursts = 0;
  bool was = false;
  constexpr int kRows = 20000;
  for (int i = 0; i < kRows; ++i) {
    bank.read(running(i), sample);
    const bool gone = sample.present == 0;
    missing += gone ? 1 : 0;
    bursts += gone && !was ? 1 : 0;
    was = gone;
  }
  CHECK(100.0 * missing / kRows == Approx(17.0).margin(3.0));
  CHECK(static_cast<double>(missing) / bursts == Approx(3.0).margin(1.0));
  CHECK(static_cast<int>(bank.tallies()[0].missing) == missing);
}

TEST_CASE("a fault in one channel leaves every other reading as it was") {
  Fault fault{.kind = FaultKind::sensor_spike, .at_s = 0.0, .size = 30.0};
  fault.channel = Channel::oil_pressure;
  SensorSpec noisy = coolant();
  noisy.noise = 3.0;
  const Scenario sound = with({oil(5.0), noisy});
  const Scenario ill = with({oil(5.0), noisy}, {fault});
  SensorBank a(sound);
  SensorBank b(ill);
  Sample first;
  Sample second;
  for (int i = 0; i < 500; ++i) {
    a.read(running(i), first);
    b.read(running(i), second);
    REQUIRE(first.steps[1] == second.steps[1]);
  }
}

TEST_CASE("a channel that the set has not got is never there") {
  SensorSpec spec;
  spec.channel = Channel::winding_temperature;
  spec.unit = LogUnit::degC;
  const Scenario scenario = with({spec});
  SensorBank bank(scenario);
  Sample sample;
  bank.read(running(0.0), sample);
  CHECK(sample.present == 0);
}

}  // namespace
}  // namespace telltale::host::sim
