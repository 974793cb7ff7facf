// Dialects in which one log is written for comparison.
#pragma once

#include <vector>

#include "log_writer.hpp"

namespace telltale::test {

/// Every feature of a log alone, and many together; the first is the plainest.
std::vector<Dialect> dialects();

/// Whether its times start at zero.
bool is_elapsed(const Dialect& dialect);

}  // namespace telltale::test
