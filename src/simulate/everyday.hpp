// Everyday use of a boat's set: a run's plan with the usual consumers.
#pragma once

#include "simulate/scenario.hpp"

namespace telltale::host::sim {

/// A run from `start_s` whose stop comes so that it is at rest about
/// `length_s` later. Warmed up without load, loaded between 30 and 90 % of
/// the rating, cooled down: nothing a check could object to.
/// REQUIRES: length_s >= 600
RunPlan everyday_run(const SetSpec& set, const Environment& environment,
                     double start_s, double length_s, std::uint64_t seed);

/// Adds runs like the first until there are `count`, about `every_s` apart,
/// and lets the log follow them; rest is logged only near to a run.
void repeat_runs(Scenario& scenario, int count, double every_s);

}  // namespace telltale::host::sim
