// Faults that lie in how the set is used: they reshape the plan of a run.
#pragma once

#include "simulate/scenario.hpp"

namespace telltale::host::sim {

/// The scenario with such faults worked into its runs, loads and service
/// plan, and the onset of faults that belong to a start moved to that start.
/// What the machine is given; the truth file keeps the moved onsets.
Scenario prepared(Scenario scenario);

/// Why a set cannot have such a fault; empty when it can.
std::string cannot_have(FaultKind kind, const SetSpec& set);

/// The run that `t_s` falls in, else the next one, else the last one; the
/// index in scenario.runs. REQUIRES: at least one run.
std::size_t run_at(const Scenario& scenario, double t_s);

}  // namespace telltale::host::sim
