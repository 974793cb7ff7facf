#include "simulate/battery.hpp"

#include "catch.hpp"
#include "simulate/presets.hpp"

namespace telltale::host::sim {
namespace {

struct Bench {
  explicit Bench(const SetSpec& spec) : set(spec), battery(set) {}
  void run(double seconds, double dt = 0.2) {
    for (double t = 0.0; t < seconds; t += dt) battery.step(dt, in, ailments);
  }
  SetSpec set;
  Battery battery;
  BatteryInput in;
  Ailments ailments;
};

// Rest volts of a charged 12 V battery: 12.6 to 12.7 (battery-council values).
TEST_CASE("a charged battery rests at 12.6 V, or twice that") {
  Bench bench(preset_scenario("split-8")->set);
  bench.run(600.0);
  CHECK(bench.battery.volts() == Approx(12.63).margin(0.05));
  Bench large(preset_scenario("three-40")->set);
  large.run(600.0);
  CHECK(large.battery.volts() == Approx(25.3).margin(0.1));
}

// Practice: warm, a sound 12 V battery keeps 9.6 V or more while cranking.
TEST_CASE("cranking dips it to between 9.6 and 12 V; a tired one further") {
  for (const PresetInfo& preset : presets()) {
    INFO(preset.name);
    Bench bench(preset_scenario(preset.name)->set);
    bench.run(10.0);
    const auto crank = [&bench] {
      for (double t = 0.2; t < 2.0; t += 0.2) {
        bench.in.crank_s = t;
        bench.run(0.2);
      }
      return bench.battery.volts_per_12();
    };
    const double sound = crank();
    CHECK(sound > 9.6);
    CHECK(sound < 12.0);
    bench.ailments.resistance = 3.0;
    CHECK(crank() < sound - 1.5);
  }
}

TEST_CASE("preheating takes some tenths of a volt") {
  Bench bench(preset_scenario("split-8")->set);
  bench.run(10.0);
  const double rest = bench.battery.volts();
  bench.in.preheat = true;
  bench.run(1.0);
  CHECK(rest - bench.battery.volts() > 0.15);
  CHECK(rest - bench.battery.volts() < 1.0);
}

// Alternators give 13.8 to 14.4 V (practice); over 13 V within minutes.
TEST_CASE("a running engine charges it above 13 V within minutes") {
  for (const PresetInfo& preset : presets()) {
    INFO(preset.name);
    Bench bench(preset_scenario(preset.name)->set);
    bench.in.charging = true;
    bench.run(180.0);
    CHECK(bench.battery.volts_per_12() > 13.4);
    CHECK(bench.battery.volts_per_12() < 14.6);
  }
}

TEST_CASE("a charger with two stages steps down to float and stays") {
  SetSpec set;
  set.battery.charge_v = 14.3;
  set.battery.float_v = 13.6;
  set.battery.absorb_s = 900.0;
  Bench bench(set);
  bench.in.charging = true;
  bench.run(890.0);
  CHECK(bench.battery.volts() == Approx(14.3).margin(0.02));
  bench.run(150.0);
  CHECK(bench.battery.volts() == Approx(13.6).margin(0.03));
  bench.run(3000.0);
  CHECK(bench.battery.volts() == Approx(13.6).margin(0.01));
  CHECK(bench.battery.sound_volts() ==
        Approx(bench.battery.volts()).margin(1e-6));
}

// -5 mV a cell and K on 14.4 V at 25 degC: 15.15 V at 0, 13.65 V at 50 degC
// (battery data sheet arithmetic).
TEST_CASE("a compensated charger gives more in the cold") {
  SetSpec set;
  set.battery.charge_v = 14.4;
  set.battery.compensation_mv_k = 30.0;
  for (auto [celsius, volts] :
       {std::pair{0.0, 15.15}, {25.0, 14.40}, {50.0, 13.65}}) {
    Bench bench(set);
    bench.in.charging = true;
    bench.in.celsius = celsius;
    bench.run(1200.0);
    CHECK(bench.battery.volts() == Approx(volts).margin(0.005));
  }
}

TEST_CASE("surface charge fades within the hour after the stop") {
  Bench bench(preset_scenario("split-8")->set);
  bench.in.charging = true;
  bench.run(1200.0);
  bench.in.charging = false;
  bench.run(60.0);
  CHECK(bench.battery.volts() > 13.2);
  bench.run(3600.0);
  CHECK(bench.battery.volts() < 12.8);
}

TEST_CASE("faults of the charger show at the terminals") {
  SetSpec set;
  const auto settled = [&set](const Ailments& ailments) {
    Bench bench(set);
    bench.ailments = ailments;
    bench.in.charging = true;
    bench.run(1800.0);
    return bench.battery.volts();
  };
  CHECK(settled({.charge_v = 12.5}) == Approx(12.5).margin(0.05));
  CHECK(settled({.charge_v = 15.8}) == Approx(15.8).margin(0.02));
  CHECK(settled({.charge_fade_v = 0.9}) == Approx(13.3).margin(0.02));
  Bench weak(set);
  weak.ailments.rest_v = 11.9;
  weak.run(1800.0);
  CHECK(weak.battery.volts() == Approx(11.87).margin(0.03));
}

}  // namespace
}  // namespace telltale::host::sim
