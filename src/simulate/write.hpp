// One call for each file that scenarios can become.
#pragma once

#include <span>
#include <vector>

#include "simulate/log_writer.hpp"
#include "simulate/scenario.hpp"
#include "simulate/truth/truth.hpp"
#include "support/result.hpp"

namespace telltale::host::sim {

/// Writes the log of one or several sets into `sink`, rows in order of time.
/// With `truth` the states are judged on the way, and a truth for each set is
/// appended (see write_truth()). Error: the sink refused bytes.
/// REQUIRES: the sets share columns, interval and format but for the name in
/// the unit column.
Result<LogFacts> write_log(std::span<const Scenario> sets, const ByteSink& sink,
                           std::vector<SetTruth>* truth = nullptr);
Result<LogFacts> write_log(const Scenario& set, const ByteSink& sink,
                           std::vector<SetTruth>* truth = nullptr);

/// The truth of a scenario without its log.
SetTruth truth_of(const Scenario& scenario);

}  // namespace telltale::host::sim
