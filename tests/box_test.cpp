// A box whose power is cut tells what one tells that ran through.
#include "telltale/box.hpp"

#include <memory>
#include <vector>

#include "catch.hpp"
#include "made_run.hpp"
#include "telltale/detect/checks/all.hpp"

namespace telltale::test {
namespace {

template <class R>
using WholeBox = Box<R, AllChecks>;

/// Charging fails, the load goes over rating, an alarm chatters; two runs.
MadeRun troubled_run() {
  MadeRun run = usual_run(40.0);
  run.fault(Channel::battery_voltage, during(900.0, 600.0, to(12.7)));
  run.fault(Channel::power, during(1500.0, 120.0, to(9.8)));
  run.fault(Channel::coolant_temperature, during(1800.0, 200.0, to(107.0)));
  run.missing(Channel::oil_pressure, 2000.0, 2030.0);
  run.alarm(3, 700.0, 710.0).alarm(3, 720.0, 730.0).alarm(3, 740.0, 745.0);
  run.start().warm().stop();
  return run;
}

template <class R>
void feed(WholeBox<R>& box, const MadeScan& scan, const FindingSink<R>& sink) {
  for (std::size_t i = 0; i < kChannelCount; ++i) {
    if ((scan.frame.present() >> i & 1U) == 0) continue;
    box.readings().put(static_cast<Channel>(i), scan.frame.at,
                       static_cast<R>(scan.frame.values[i]));
  }
  box.readings().put(scan.frame.state);
  box.readings().put_alarms(scan.frame.alarms);
  box.scan(scan.frame.at, sink);
}

struct Line {
  std::uint16_t check, run;
  Channel channel;
  Severity severity;
  FindingEvent event;
  std::int64_t since, until;
  double value;

  bool operator==(const Line&) const = default;
};
template <class R>
FindingSink<R> into(std::vector<Line>& lines) {
  return FindingSink<R>(
      [](void* to, const Finding<R>& f) {
        static_cast<std::vector<Line>*>(to)->push_back(
            {f.check, f.run, f.channel, f.severity, f.event, f.since.ms,
             f.until.ms, static_cast<double>(f.value)});
      },
      &lines);
}

/// Every so many scans the state moves to a fresh box. 0: never.
template <class R>
std::vector<Line> told(std::size_t cut_every) {
  const std::vector<MadeScan> scans = troubled_run().scans();
  const Profile profile = Plate{}.profile();
  std::vector<Line> lines;
  const FindingSink<R> sink = into<R>(lines);
  auto box = std::make_unique<WholeBox<R>>();
  REQUIRE(box->configure(profile).error == SetupError::none);
  for (std::size_t i = 0; i < scans.size(); ++i) {
    if (cut_every > 0 && i % cut_every == cut_every - 1) {
      std::vector<std::uint8_t> state(WholeBox<R>::kStateBytes);
      box->save(std::span<std::uint8_t, WholeBox<R>::kStateBytes>(state));
      // The old memory is gone before the new box wakes.
      box.reset();
      box = std::make_unique<WholeBox<R>>();
      REQUIRE(box->configure(profile).error == SetupError::none);
      REQUIRE(box->load(state) == StateError::none);
    }
    feed(*box, scans[i], sink);
  }
  box->finish(sink);
  return lines;
}

TEST_CASE("a power cut mid-run and mid-finding loses nothing") {
  const std::vector<Line> whole = told<float>(0);
  CHECK(whole.size() >= 8);
  CHECK(told<float>(1) == whole);
  CHECK(told<float>(7) == whole);
  CHECK(told<float>(601) == whole);
  CHECK(told<double>(601) == told<double>(0));
}

TEST_CASE("a state of something else is refused and changes nothing") {
  using Small = Box<float, CheckList<ChargingLow, CoolantHigh>>;
  const Profile profile = Plate{}.profile();
  WholeBox<float> box;
  REQUIRE(box.configure(profile).error == SetupError::none);
  std::vector<std::uint8_t> state(WholeBox<float>::kStateBytes);
  CHECK(box.load(state) == StateError::not_a_state);
  CHECK(box.load({}) == StateError::wrong_size);
  box.save(std::span<std::uint8_t, WholeBox<float>::kStateBytes>(state));
  CHECK(box.load(std::span(state).first(100)) == StateError::wrong_size);
  for (std::size_t at : {16UL, 500UL, state.size() - 1}) {
    state[at] ^= 0x10U;
    CHECK(box.load(state) == StateError::damaged);
    state[at] ^= 0x10U;
  }
  state[5] ^= 1U;
  CHECK(box.load(state) == StateError::other_build);
  state[5] ^= 1U;
  CHECK(box.load(state) == StateError::none);

  Small small;
  REQUIRE(small.configure(profile).error == SetupError::none);
  std::vector<std::uint8_t> other(Small::kStateBytes);
  small.save(std::span<std::uint8_t, Small::kStateBytes>(other));
  CHECK(box.load(other) == StateError::wrong_size);
}

TEST_CASE("limits in the wrong order are refused with the check's name") {
  Profile profile = Plate{}.profile();
  profile.limits.push_back({.check = CoolantHigh<float>::info.id,
                            .attention = 110.0F,
                            .urgent = 100.0F});
  WholeBox<float> box;
  const Setup setup = box.configure(profile);
  CHECK(setup.error == SetupError::wrong_order);
  CHECK(setup.check == CoolantHigh<float>::info.id);
}

}  // namespace
}  // namespace telltale::test
