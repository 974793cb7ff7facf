// The first pass over a log: what its rows tell of each set.
#pragma once

#include <vector>

#include "ingest/log.hpp"
#include "profile/inference.hpp"
#include "support/result.hpp"
#include "support/threads.hpp"

namespace telltale::host {

/// By unit. Of a long log a sample of the rows is looked at, the same ones
/// however the log is written, and read ahead if there may be threads.
Result<std::vector<Inference>> first_pass(const Log& log, Threads threads);

}  // namespace telltale::host
