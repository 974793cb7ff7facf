// Phases and runs of contract section 4: attempts and start sequences, logs
// that begin or end while running, gaps, single bad rows, a lost pick-up.
#include "telltale/condition/phase_tracker.hpp"

#include <string>
#include <vector>

#include "catch.hpp"
#include "judge.hpp"

namespace telltale::test {
namespace {

std::string phases_of(const Outcome& out) {
  std::string text;
  for (const PhaseSeen& seen : out.phases) {
    if (!text.empty()) text += " ";
    text += name_of(seen.phase);
  }
  return text;
}
double start_of(const Outcome& out, std::size_t run = 0) {
  return MadeRun::seconds_of(out.runs.at(run).facts.start);
}
double end_of(const Outcome& out, std::size_t run = 0) {
  return MadeRun::seconds_of(out.runs.at(run).facts.end);
}

TEST_CASE("phases: a usual run") {
  const Outcome out = judge(usual_run(10.0));
  CHECK(phases_of(out) ==
        "stopped cranking running-up no-load on-load no-load stopping stopped");
  REQUIRE(out.runs.size() == 1);
  const RunFacts& run = out.runs[0].facts;
  CHECK(run.attempts == 1);
  CHECK(start_of(out) == Approx(120.0).margin(1.0));
  CHECK(MadeRun::seconds_of(run.running_since) == Approx(123.0).margin(1.0));
  CHECK(run.crank_ms == Approx(3000).margin(1000));
  CHECK(!run.begins_in_log);
  CHECK(run.ends == RunEnd::stop);
}

TEST_CASE("phases: cranking ends at 40 % of nominal speed") {
  for (const double hz : {60.0, 50.0}) {
    Plate plate;
    plate.hz = hz;
    MadeRun run(plate);
    run.rest(30.0).crank(2.0).run_up(40.0).load(0.0, 60.0).stop();
    run.every(0.5).turn([](const Scene& s, double x) {
      return s.stage == Stage::run_up ? 0.1 + s.ran / 40.0 * 0.92 : x;
    });
    const Outcome out = judge(run);
    for (const PhaseSeen& seen : out.phases) {
      // 0.1 + t / 40 * 0.92 passes 0.4 after 13.04 s.
      if (seen.phase == Phase::running_up) {
        CHECK(seen.since == Approx(32.0 + 13.04).margin(0.6));
      }
    }
  }
}

TEST_CASE("phases: attempts within ten minutes are one sequence") {
  for (const double apart : {60.0, 590.0, 620.0}) {
    MadeRun run;
    run.rest(60.0).crank(5.0).rest(apart).start().load(0.0, 120.0).stop();
    const Outcome out = judge(run);
    INFO(apart);
    CHECK(out.runs.size() == (apart < 600.0 ? 1 : 2));
    if (apart < 600.0) {
      CHECK(out.runs[0].facts.attempts == 2);
      CHECK(start_of(out) == Approx(60.0).margin(1.0));
      CHECK(out.runs[0].facts.crank_ms == Approx(8000).margin(1500));
    }
  }
}

TEST_CASE("phases: attempts that never start make a run that never ran") {
  MadeRun run;
  run.rest(60.0);
  for (int i = 0; i < 3; ++i) run.crank(5.0).rest(30.0);
  const Outcome out = judge(run.rest(700.0));
  REQUIRE(out.runs.size() == 1);
  CHECK(out.runs[0].facts.attempts == 3);
  CHECK(!is_set(out.runs[0].facts.running_since));
  // From the first crank to the rest after the last one.
  CHECK(start_of(out) == Approx(60.0).margin(1.0));
  CHECK(end_of(out) == Approx(135.0).margin(1.5));
}

TEST_CASE("phases: a log that begins or ends while running says so") {
  MadeRun begins;
  begins.load(50.0, 600.0).stop();
  const Outcome a = judge(begins);
  REQUIRE(a.runs.size() == 1);
  CHECK(a.runs[0].facts.begins_in_log);
  CHECK(a.runs[0].facts.attempts == 0);
  CHECK(a.runs[0].facts.ends == RunEnd::stop);
  MadeRun ends;
  ends.rest(60.0).start().load(50.0, 600.0);
  const Outcome b = judge(ends);
  REQUIRE(b.runs.size() == 1);
  CHECK(!b.runs[0].facts.begins_in_log);
  CHECK(b.runs[0].facts.ends == RunEnd::log);
}

TEST_CASE(
    "phases: a gap over ten minutes splits a run, a shorter one does not") {
  // The hour meter shows that it went on: see the next case.
  for (const double length : {590.0, 620.0}) {
    MadeRun run = usual_run(60.0);
    run.without(Channel::engine_hours).without(Channel::start_count);
    run.gap(1000.0, 1000.0 + length);
    const Outcome out = judge(run);
    INFO(length);
    CHECK(out.runs.size() == (length > 600.0 ? 2 : 1));
  }
}

TEST_CASE("phases: the hour meter shows that a run went on through a gap") {
  MadeRun run = usual_run(60.0);
  run.gap(1000.0, 2500.0);
  const Outcome out = judge(run);
  REQUIRE(out.runs.size() == 1);
  // The gap is left out of the duration.
  CHECK(out.runs[0].facts.gap_ms == Approx(1500000).margin(2000));
}

TEST_CASE("phases: a single bad row at speed is no stop") {
  for (const double value : {0.0, 300.0, 9000.0}) {
    MadeRun run = usual_run(20.0);
    run.single(Channel::engine_speed, 900.0, value);
    CHECK(phases_of(judge(run)) == phases_of(judge(usual_run(20.0))));
  }
}

TEST_CASE("phases: where speed is not logged, frequency tells, then volts") {
  MadeRun by_hz = usual_run(20.0);
  by_hz.without(Channel::engine_speed);
  const Outcome hz = judge(by_hz);
  REQUIRE(hz.runs.size() == 1);
  CHECK(end_of(hz) == Approx(1842.0).margin(6.0));
  MadeRun by_volts = usual_run(20.0);
  by_volts.without(Channel::engine_speed).without(Channel::frequency);
  const Outcome volts = judge(by_volts);
  REQUIRE(volts.runs.size() == 1);
  CHECK(end_of(volts) == Approx(1842.0).margin(6.0));
  MadeRun by_state = usual_run(20.0);
  by_state.without(Channel::engine_speed)
      .without(Channel::frequency)
      .without(Channel::voltage_l1)
      .without(Channel::voltage_l2)
      .without(Channel::voltage_line)
      .with_state();
  const Outcome state = judge(by_state);
  REQUIRE(state.runs.size() == 1);
  CHECK(start_of(state) == Approx(120.0).margin(1.5));
  CHECK(end_of(state) == Approx(1842.0).margin(6.0));
}

TEST_CASE("phases: a lost pick-up is no stop while frequency goes on") {
  MadeRun run = usual_run(20.0);
  run.fault(Channel::engine_speed, since(900.0, to(0.0)));
  const Outcome out =
      judge_by(run.scans(), run.plate().profile(), Feeding::scans);
  REQUIRE(out.runs.size() == 1);
  CHECK(end_of(out) == Approx(1842.0).margin(6.0));
  CHECK(!out.found("abrupt-stop"));
  CHECK(!out.found("stop-under-load"));
}

// 5 % of rating: 0.4 kW of 8.
TEST_CASE("phases: on load from 5 % of rating on") {
  for (const double load : {4.5, 5.5}) {
    MadeRun run;
    run.rest(60.0).start().load(load, 300.0).coast().rest(30.0);
    const std::string phases = phases_of(judge(run));
    CHECK((phases.find("on-load") != std::string::npos) == (load > 5.0));
  }
}

TEST_CASE("phases: two runs in one log") {
  MadeRun run = usual_run(5.0);
  run.rest(900.0).start().warm().load(40.0, 300.0).stop();
  const Outcome out = judge(run);
  REQUIRE(out.runs.size() == 2);
  CHECK(start_of(out, 1) > end_of(out, 0));
}

// A log without speed, frequency, volts and state has no phase to the end: its
// time since nothing ran over.
TEST_CASE("phases: before anything has told, nothing was cranked") {
  PhaseTracker<double> wide;
  CHECK(wide.crank_so_far(TimeMs{5000}).ms == 0);
  PhaseTracker<float> box;
  CHECK(box.crank_so_far(TimeOf<float>(TimeMs{5000})).ms == 0);
}

}  // namespace
}  // namespace telltale::test
