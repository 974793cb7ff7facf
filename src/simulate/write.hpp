// One call for each file a scenario can become.
#pragma once

#include <string>

#include "simulate/log_writer.hpp"
#include "simulate/scenario.hpp"
#include "simulate/truth/truth.hpp"
#include "support/result.hpp"

namespace telltale::host::sim {

/// Writes the log of `scenario` into `sink`. With `truth` the states are
/// judged on the way and it is filled; `ran` then becomes the scenario as run
/// (the one that truth_json() wants). Error: the sink refused bytes.
Result<LogFacts> write_log(const Scenario& scenario, const ByteSink& sink,
                           Truth* truth = nullptr, Scenario* ran = nullptr);

/// The truth of a scenario without its log.
Truth truth_of(const Scenario& scenario, Scenario* ran = nullptr);

}  // namespace telltale::host::sim
