// Consumers in proportion to the rating, spread over the legs.
#include "simulate/everyday.hpp"

#include <algorithm>
#include <cmath>

#include "simulate/random.hpp"

namespace telltale::host::sim {
namespace {

// Times are seconds since the load was connected. Nothing large comes on
// before the engine is warm.
std::vector<Appliance> consumers(const Rating& rating, double warm_s,
                                 Random& random) {
  const double kw = rating.power_kw;
  const Feed second = rating.legs > 1 ? Feed::l2 : Feed::l1;
  const Feed third = rating.legs > 2 ? Feed::l3 : Feed::l1;
  const auto vary = [&random](double value) {
    return value * random.between(0.85, 1.15);
  };
  std::vector<Appliance> list;
  list.push_back({"battery charger", vary(0.10 * kw), 0.97, Feed::all, 40.0});
  list.push_back({"air conditioner fore", vary(0.13 * kw), 0.88, Feed::all,
                  warm_s + vary(30.0), vary(540.0), vary(300.0), 0.25, 4.5,
                  0.6});
  list.push_back({"air conditioner aft", vary(0.10 * kw), 0.86, Feed::all,
                  warm_s + vary(160.0), vary(420.0), vary(420.0), 0.25, 4.5,
                  0.5});
  list.push_back({"water heater", vary(0.14 * kw), 1.0, Feed::all,
                  warm_s + vary(240.0), vary(900.0), vary(1500.0), 0.2});
  list.push_back({"refrigerator", vary(0.035 * kw), 0.8, Feed::l1, vary(90.0),
                  vary(300.0), vary(420.0), 0.3, 5.5, 0.4});
  list.push_back({"galley", vary(0.05 * kw), 1.0, second, warm_s + vary(400.0),
                  vary(150.0), vary(800.0), 0.5});
  list.push_back({"fresh-water pump", vary(0.03 * kw), 0.8, third, vary(200.0),
                  vary(25.0), vary(260.0), 0.6, 5.0, 0.3});
  return list;
}

}  // namespace

RunPlan everyday_run(const SetSpec& set, const Environment& environment,
                     double start_s, double length_s, std::uint64_t seed) {
  Random random(seed, "everyday run");
  const double start_c =
      environment.engine_c > -90.0 ? environment.engine_c : environment.air_c;
  const double cold = std::clamp((20.0 - start_c) / 20.0, 0.0, 1.2);
  RunPlan run;
  run.start_s = start_s + random.between(0.0, 1.0);  // people are not clocks
  run.warm_up_s = 170.0 + 90.0 * cold;
  run.cool_down_s = 240.0;
  if (length_s < 1500.0) {  // a short run keeps its proportions
    run.warm_up_s *= length_s / 1500.0;
    run.cool_down_s = 150.0;
  }
  const double startup = 40.0 + set.controller.preheat_s;
  run.loaded_s =
      std::max(length_s - startup - run.warm_up_s - run.cool_down_s, 60.0);
  run.load.power_factor = set.rating.power_factor < 0.95 ? 0.85 : 0.98;
  run.load.levels = {{0.0, random.between(24.0, 29.0)}};
  run.load.wander_pct = random.between(0.6, 1.4);
  run.load.appliances = consumers(set.rating, 200.0 + 240.0 * cold, random);
  return run;
}

void repeat_runs(Scenario& scenario, int count, double every_s) {
  Random random(scenario.seed, "repeated runs");
  const double first = scenario.runs.front().start_s;
  const double length = scenario.runs.front().end_s() - first;
  for (int i = 1; i < count; ++i) {
    const double start =
        std::max(first + every_s * (i + random.between(-0.15, 0.15)),
                 scenario.runs.back().end_s() + 600.0);
    scenario.runs.push_back(
        everyday_run(scenario.set, scenario.environment, start, length,
                     scenario.seed + 1000003U * static_cast<std::uint64_t>(i)));
  }
  scenario.log_to_s = std::floor(scenario.runs.back().end_s() + 60.0);
  scenario.log_margin_s = 120.0;
}

}  // namespace telltale::host::sim
