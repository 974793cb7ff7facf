// The governed engine against what ISO 8528-5 and practice say of such sets.
#include "simulate/drive.hpp"

#include <algorithm>
#include <cmath>

#include "catch.hpp"
#include "simulate/presets.hpp"

namespace telltale::host::sim {
namespace {

constexpr double kStep = 0.02;

/// A drive with its input, moved by fine steps.
struct Bench {
  explicit Bench(const SetSpec& spec) : set(spec), drive(set) {
    in.ailments = &ailments;
  }
  /// Runs for `seconds`; keeps the extremes.
  void run(double seconds) {
    low = 9.0;
    high = 0.0;
    for (double t = 0.0; t < seconds; t += kStep) {
      in.load_torque = load / std::max(drive.speed(), 0.3);
      drive.step(kStep, in);
      low = std::min(low, drive.speed());
      high = std::max(high, drive.speed());
    }
  }
  void start() {
    in.crank_speed = 0.06;
    run(1.0);
    in.fuel = true;
    while (drive.speed() < 0.28) run(kStep);
    in.crank_speed = 0.0;
    run(20.0);
  }
  SetSpec set;
  Ailments ailments;
  Drive drive;
  DriveInput in;
  double load = 0.0;
  double low = 0.0;
  double high = 0.0;
};

SetSpec with_droop(double pct) {
  SetSpec set;
  set.governor.droop_pct = set.governor.no_load_pct = pct;
  return set;
}

// ISO 8528-5: droop is the fall of steady frequency from no load to rated
// load, in % of rated. Mechanical governors: 3 to 5 % (practice).
TEST_CASE("steady speed falls by the droop from no load to rated load") {
  for (double pct : {0.0, 3.0, 5.0, 8.0}) {
    INFO(pct);
    Bench bench(with_droop(pct));
    bench.start();
    const double no_load = bench.drive.speed();
    bench.load = 1.0;
    bench.run(30.0);
    CHECK(no_load == Approx(1.0 + pct / 100.0).margin(2e-4));
    CHECK(100.0 * (no_load - bench.drive.speed()) == Approx(pct).margin(0.05));
  }
}

TEST_CASE("it runs up in one to five seconds and overshoots a little") {
  for (const PresetInfo& preset : presets()) {
    INFO(preset.name);
    Bench bench(preset_scenario(preset.name)->set);
    bench.in.crank_speed = 0.06;
    bench.run(1.0);
    bench.in.fuel = true;
    double seconds = 0.0;
    while (bench.drive.speed() < 0.95 && seconds < 20.0) {
      bench.run(kStep);
      seconds += kStep;
      if (bench.drive.speed() > 0.28) bench.in.crank_speed = 0.0;
    }
    CHECK(seconds > 1.0);
    CHECK(seconds < 5.5);
    bench.run(5.0);
    const double settled = bench.drive.speed();
    CHECK(bench.high > settled + 0.002);
    CHECK(bench.high < settled + 0.06);
  }
}

TEST_CASE("it coasts to rest in three to twelve seconds without fuel") {
  for (const PresetInfo& preset : presets()) {
    INFO(preset.name);
    Bench bench(preset_scenario(preset.name)->set);
    bench.start();
    bench.in.fuel = false;
    double seconds = 0.0;
    while (bench.drive.speed() > 0.0 && seconds < 60.0) {
      bench.run(kStep);
      seconds += kStep;
    }
    CHECK(seconds > 3.0);
    CHECK(seconds < 12.0);
  }
}

// ISO 8528-5 class G2: not below -10 % of rated when load comes on, not above
// +12 % when it goes, back within 1 % of the new frequency in 5 s.
TEST_CASE("half load on and off stays inside class G2") {
  for (const PresetInfo& preset : presets()) {
    INFO(preset.name);
    Bench bench(preset_scenario(preset.name)->set);
    bench.start();
    bench.load = 0.5;
    bench.run(5.0);
    CHECK(bench.low > 0.90);
    bench.run(10.0);
    const double settled = bench.drive.speed();
    CHECK(bench.low > settled - 0.01);
    CHECK(bench.high < settled + 0.01);
    bench.load = 0.0;
    bench.run(5.0);
    CHECK(bench.high < 1.12);
  }
}

TEST_CASE("a sluggish governor dips deeper and comes back later") {
  const auto respond = [](double slowness, double& dip) {
    Bench bench(with_droop(4.0));
    bench.ailments.slowness = slowness;
    bench.start();
    bench.run(40.0);
    bench.load = 0.4;
    bench.run(60.0);
    const double settled = bench.drive.speed();
    dip = settled - bench.low;
    // Time of the last state outside 1 %, played again.
    Bench again(with_droop(4.0));
    again.ailments.slowness = slowness;
    again.start();
    again.run(40.0);
    again.load = 0.4;
    double last = 0.0;
    for (double t = kStep; t < 60.0; t += kStep) {
      again.run(kStep);
      if (std::abs(again.drive.speed() - settled) > 0.01) last = t;
    }
    return last;
  };
  double sound_dip = 0.0;
  double slow_dip = 0.0;
  const double sound = respond(1.0, sound_dip);
  const double slow = respond(9.0, slow_dip);
  CHECK(sound < 3.0);
  CHECK(slow > 5.0);
  CHECK(slow_dip > 1.5 * sound_dip);
}

TEST_CASE("beyond the engine's reserve the speed goes down") {
  Bench bench(with_droop(4.0));
  bench.start();
  CHECK(bench.drive.can_carry(1.0));
  CHECK_FALSE(bench.drive.can_carry(1.4));
  bench.load = 1.5;
  bench.run(5.0);
  CHECK(bench.drive.speed() < 0.9);
}

TEST_CASE("settling in one long step agrees with many short ones") {
  Bench fine(with_droop(4.0));
  fine.start();
  fine.load = 0.6;
  fine.run(30.0);
  Bench coarse(with_droop(4.0));
  coarse.start();
  coarse.in.load_torque = 0.6 / fine.drive.speed();
  for (int i = 0; i < 60; ++i) coarse.drive.settle(1.0, coarse.in);
  CHECK(coarse.drive.speed() == Approx(fine.drive.speed()).margin(1e-4));
}

TEST_CASE("a seizing engine stops at once, whatever the fuel") {
  Bench bench(with_droop(4.0));
  bench.start();
  bench.load = 0.5;
  bench.run(10.0);
  bench.ailments.drag = 6.0;
  bench.run(1.0);
  CHECK(bench.drive.speed() == 0.0);
}

}  // namespace
}  // namespace telltale::host::sim
