// The command `telltale simulate`.
#pragma once

#include <CLI/CLI.hpp>

namespace telltale::tool {

/// Adds the command to the program. When it is the one that was called, it
/// runs while the command line is parsed and sets `exit_code` (0 done, 2 could
/// not do its job; then one line on standard error says why).
void add_simulate(CLI::App& program, int& exit_code);

}  // namespace telltale::tool
