#include "simulate/controller.hpp"

#include <vector>

#include <algorithm>

#include "catch.hpp"

namespace telltale::host::sim {
namespace {

/// Plays an obedient engine under a controller.
struct Bench {
  explicit Bench(RunPlan run)
      : runs{run}, controller(runs, ControllerSpec{.preheat_s = 5.0}) {}
  void run_to(double until) {
    for (; t < until; t += 0.1) {
      controller.step(t, in);
      const Stage stage = controller.stage();
      if (stages.empty() || stages.back() != stage) stages.push_back(stage);
      if (controller.fuel()) {
        in.speed = std::min(in.speed + 0.03, 1.0);
      } else if (controller.starter()) {
        in.speed = 0.07;
      } else {
        in.speed = std::max(in.speed - 0.02, 0.0);
      }
      if (controller.starter()) {
        starter_s += 0.1;
      }
    }
  }
  std::vector<RunPlan> runs;
  Controller controller;
  ControllerInput in;
  std::vector<Stage> stages;
  double t = 0.0;
  double starter_s = 0.0;
};

RunPlan short_run() {
  RunPlan run;
  run.start_s = 10.0;
  run.warm_up_s = 30.0;
  run.loaded_s = 60.0;
  run.cool_down_s = 20.0;
  return run;
}

TEST_CASE("a run goes through its stages in order, for their time") {
  Bench bench(short_run());
  bench.run_to(250.0);
  CHECK(bench.stages == std::vector{Stage::rest, Stage::preheat, Stage::crank,
                                    Stage::run_up, Stage::warm_up,
                                    Stage::loaded, Stage::cool_down,
                                    Stage::coast, Stage::rest});
  CHECK(bench.controller.cranks() == 1);
  CHECK(bench.controller.commanded_stop());
  CHECK_FALSE(bench.controller.tripped());
}

TEST_CASE("attempts that fail are repeated, then it may start") {
  RunPlan run = short_run();
  run.failed_cranks = 2;
  run.failed_crank_s = 9.0;
  Bench bench(run);
  bench.run_to(350.0);
  CHECK(bench.controller.cranks() == 3);
  CHECK(bench.controller.started());
  // Two failed cranks of 9 s and a good one of 1.4 s and the run-up to 28 %.
  CHECK(bench.starter_s == Approx(20.3).margin(1.0));
}

TEST_CASE("an engine that never starts comes to rest unstarted") {
  RunPlan run = short_run();
  run.failed_cranks = 3;
  run.never_starts = true;
  Bench bench(run);
  bench.run_to(300.0);
  CHECK(bench.controller.stage() == Stage::rest);
  CHECK(bench.controller.cranks() == 3);
  CHECK_FALSE(bench.controller.started());
}

TEST_CASE("a long crank takes as long as told") {
  RunPlan run = short_run();
  run.crank_s = 18.0;
  Bench bench(run);
  bench.run_to(250.0);
  CHECK(bench.controller.cranks() == 1);
  CHECK(bench.starter_s == Approx(18.9).margin(0.5));
}

TEST_CASE("a trip stops the engine at once and leaves the load on") {
  Bench bench(short_run());
  bench.run_to(90.0);
  REQUIRE(bench.controller.stage() == Stage::loaded);
  bench.in.trip = true;
  bench.run_to(90.3);
  CHECK(bench.controller.stage() == Stage::coast);
  CHECK(bench.controller.breaker());
  CHECK_FALSE(bench.controller.fuel());
  CHECK(bench.controller.tripped());
  CHECK(bench.controller.word() == EngineState::fault);
}

TEST_CASE("a trip without load connects none") {
  Bench bench(short_run());
  bench.run_to(40.0);
  REQUIRE(bench.controller.stage() == Stage::warm_up);
  bench.in.trip = true;
  bench.run_to(40.3);
  CHECK_FALSE(bench.controller.breaker());
}

TEST_CASE("a stop with the load on skips the cool-down") {
  RunPlan run = short_run();
  run.stop_load_pct = 40.0;
  Bench bench(run);
  bench.run_to(300.0);
  CHECK(std::find(bench.stages.begin(), bench.stages.end(), Stage::cool_down) ==
        bench.stages.end());
  CHECK(bench.controller.commanded_stop());
}

}  // namespace
}  // namespace telltale::host::sim
