// telltale season: many runs of many sets.
#pragma once

#include <CLI/CLI.hpp>

namespace telltale::tool {

/// Declares the command and its own commands. `exit_code` is set when it runs.
void add_season(CLI::App& program, int& exit_code);

}  // namespace telltale::tool
