// The first pass over a log: what its rows tell of each set.
#pragma once

#include <vector>

#include "ingest/log.hpp"
#include "profile/inference.hpp"
#include "support/result.hpp"
#include "support/threads.hpp"

namespace telltale::host {

/// By unit. Of a long log a sample of the rows is looked at, and its halves
/// apart from each other where they can be: side by side, if there may be
/// threads. The threads change nothing of what is found.
Result<std::vector<Inference>> first_pass(const Log& log, Threads threads);

}  // namespace telltale::host
