#include "simulate/alarm_book.hpp"

#include <bit>
#include <cmath>

#include "catch.hpp"
#include "simulate/presets.hpp"

namespace telltale::host::sim {
namespace {

/// A sound state of the set at rated speed and half load.
Snapshot sound(const SetSpec& set) {
  Snapshot s;
  s.value.fill(std::nan(""));
  const auto put = [&s](Channel channel, double value) {
    s.value[index_of(channel)] = value;
  };
  put(Channel::oil_pressure, 280.0);
  put(Channel::coolant_temperature, 82.0);
  put(Channel::exhaust_temperature,
      set.rating.exhaust == Exhaust::dry ? 300.0 : 45.0);
  put(Channel::battery_voltage, 14.2 * set.rating.battery_v / 12.0);
  put(Channel::frequency, set.rating.frequency_hz);
  put(Channel::voltage_l1, set.rating.leg_volts());
  put(Channel::fuel_level, 60.0);
  put(Channel::engine_speed, set.rating.speed_rpm());
  s.load_pct = 50.0;
  s.dt = 0.5;
  return s;
}

struct Bench {
  explicit Bench(std::vector<Fault> list = {})
      : set(preset_scenario("split-8")->set),
        faults(std::move(list)),
        book(set, faults, 9),
        state(sound(set)) {}
  /// Raises seen while running on for `seconds`.
  int run(double seconds) {
    int raises = 0;
    for (double t = 0.0; t < seconds; t += state.dt) {
      const AlarmMask before = book.standing();
      state.t += state.dt;
      book.step(state, 600.0 + state.t, false, emergency);
      raises += std::popcount(book.standing() & ~before);
    }
    return raises;
  }
  void put(Channel channel, double value) {
    state.value[index_of(channel)] = value;
  }
  SetSpec set;
  std::vector<Fault> faults;
  AlarmBook book;
  Snapshot state;
  bool emergency = false;
};

TEST_CASE("a sound set raises nothing") {
  for (const PresetInfo& preset : presets()) {
    const SetSpec set = preset_scenario(preset.name)->set;
    AlarmBook book(set, {}, 1);
    Snapshot state = sound(set);
    for (int i = 0; i < 1000; ++i) {
      state.t += 1.0;
      book.step(state, 100.0 + i, false, false);
    }
    CHECK(book.standing() == 0);
    CHECK_FALSE(book.trip());
  }
}

TEST_CASE("lost oil pressure warns, then trips, and stays on the panel") {
  Bench bench;
  bench.put(Channel::oil_pressure, 95.0);
  bench.run(10.0);
  CHECK(bench.book.standing() != 0);
  CHECK_FALSE(bench.book.trip());
  bench.put(Channel::oil_pressure, 40.0);
  bench.run(10.0);
  CHECK(bench.book.trip());
  bench.put(Channel::oil_pressure, 300.0);
  bench.run(10.0);
  CHECK(bench.book.standing() != 0);
  bench.book.reset();
  CHECK_FALSE(bench.book.trip());
}

// Overspeed trips of small sets lie at 110 to 118 % (practice).
TEST_CASE("overheating, overspeed and the emergency stop trip") {
  Bench hot;
  hot.put(Channel::coolant_temperature, 112.0);
  hot.run(10.0);
  CHECK(hot.book.trip());
  Bench fast;
  fast.put(Channel::engine_speed, 3600.0 * 1.16);
  fast.run(1.0);
  CHECK(fast.book.trip());
  Bench pressed;
  pressed.emergency = true;
  pressed.run(1.0);
  CHECK(pressed.book.trip());
}

TEST_CASE("a low oil pressure before it has built up is no alarm") {
  Bench bench;
  bench.put(Channel::oil_pressure, 0.0);
  for (double running_s : {0.5, 5.0, 14.0}) {
    bench.state.t += 1.0;
    bench.book.step(bench.state, running_s, false, false);
  }
  CHECK(bench.book.standing() == 0);
}

TEST_CASE("chatter, flood and a standing alarm come as asked") {
  Fault chatter{.kind = FaultKind::alarm_chatter, .at_s = 10.0, .size = 6.0};
  CHECK(Bench({chatter}).run(100.0) == Approx(9).margin(2));
  Fault flood{.kind = FaultKind::alarm_flood, .at_s = 10.0, .size = 20.0};
  CHECK(Bench({flood}).run(610.0) == Approx(20).margin(5));
  Bench quiet({flood});
  quiet.run(800.0);
  CHECK(quiet.book.standing() == 0);
  Fault standing{.kind = FaultKind::alarm_standing, .at_s = 10.0, .size = 1.0};
  Bench stands({standing});
  stands.run(3000.0);
  CHECK(std::popcount(stands.book.standing()) == 1);
  stands.run(1000.0);
  CHECK(stands.book.standing() == 0);
}

}  // namespace
}  // namespace telltale::host::sim
