// Runs written down on a thread of their own, against the same on the caller's.
#include "session/run_chronicle.hpp"

#include <random>
#include <vector>

#include "catch.hpp"

namespace telltale::host {
namespace {

Profile rated() {
  Profile profile;
  profile.rating.frequency_hz = 60.0F;
  profile.rating.voltage_v = 240.0F;
  return profile;
}

/// A run of so many scans at 60 Hz whose load goes up every ten minutes.
RunFacts write(RunChronicle& chronicle, TimeMs start, int scans,
               unsigned seed) {
  std::minstd_rand chance(seed);
  RunFacts facts;
  facts.start = facts.running_since = start;
  facts.ends = RunEnd::stop;
  for (int i = 0; i < scans; ++i) {
    const auto [scan, note] = chronicle.next();
    scan = JudgedScan{};
    scan.at = start + DurationMs{i * 1000};
    scan.interval_ms = 1000;
    scan.phase = i < 20 ? Phase::no_load : Phase::on_load;
    scan.load_pct = 10.0 * (i / 600 % 8);
    scan.step_began = i % 600 == 0 && i > 0;
    scan.load_rated = scan.steady = true;
    std::array<double, kChannelCount> values{};
    values[index_of(Channel::frequency)] =
        60.0 + 0.01 * static_cast<double>(chance() % 50);
    scan.read(bit(Channel::frequency), values);
    note.place = {scan.at, static_cast<std::uint64_t>(i)};
    note.step_from_pct = scan.load_pct - 10.0;
    note.phase_since = scan.at;
    note.phase_place = note.place;
    facts.end = scan.at;
  }
  chronicle.end_run(facts, {facts.end, static_cast<std::uint64_t>(scans)});
  return facts;
}

void check_same(const RunRecord& a, const RunRecord& b) {
  REQUIRE(a.phases.size() == b.phases.size());
  for (std::size_t i = 0; i < a.phases.size(); ++i) {
    CHECK(a.phases[i].phase == b.phases[i].phase);
    CHECK(a.phases[i].from.line == b.phases[i].from.line);
    CHECK(a.phases[i].to.line == b.phases[i].to.line);
  }
  REQUIRE(a.load_steps.size() == b.load_steps.size());
  for (std::size_t i = 0; i < a.load_steps.size(); ++i) {
    CHECK(a.load_steps[i].line == b.load_steps[i].line);
    CHECK(a.load_steps[i].to_pct == b.load_steps[i].to_pct);
  }
  CHECK(a.acceptance.has_value() == b.acceptance.has_value());
  for (std::size_t i = 0; i < kChannelCount; ++i) {
    REQUIRE((a.channels[i] == nullptr) == (b.channels[i] == nullptr));
    if (!a.channels[i]) continue;
    CHECK(a.channels[i]->samples == b.channels[i]->samples);
    CHECK(a.channels[i]->mean == b.channels[i]->mean);
    CHECK(a.channels[i]->sd == b.channels[i]->sd);
    CHECK(a.channels[i]->median == b.channels[i]->median);
  }
}

TEST_CASE("run chronicle: the same on a thread of its own") {
  const Profile profile = rated();
  RunChronicle here(profile, Threads::one);
  RunChronicle beside(profile, Threads::more);
  // Less than a block, whole blocks, and many; some records are asked for at
  // once, some when others have ended.
  const std::vector<int> scans = {40, 256, 512, 20'000, 30, 3000};
  for (std::size_t i = 0; i < scans.size(); ++i) {
    const TimeMs start{static_cast<std::int64_t>(i) * 100'000'000};
    write(here, start, scans[i], static_cast<unsigned>(i));
    write(beside, start, scans[i], static_cast<unsigned>(i));
    if (i % 3 == 2) {
      for (std::size_t k = i - 2; k <= i; ++k) {
        INFO("run " << k);
        const RunRecord record = here.take();
        check_same(record, beside.take());
        REQUIRE(record.channels[index_of(Channel::frequency)]);
        CHECK(record.channels[index_of(Channel::frequency)]->samples ==
              static_cast<std::uint64_t>(scans[k]));
        CHECK(record.load_steps.size() ==
              static_cast<std::size_t>((scans[k] - 1) / 600));
      }
    }
  }
}

TEST_CASE("run chronicle: may be left in the middle of a run") {
  const Profile profile = rated();
  for (int i = 0; i < 20; ++i) {
    RunChronicle chronicle(profile, Threads::more);
    for (int k = 0; k < 100 * i; ++k) chronicle.next().scan = JudgedScan{};
  }
}

}  // namespace
}  // namespace telltale::host
