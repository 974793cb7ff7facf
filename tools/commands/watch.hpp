// The command `telltale watch`.
#pragma once

#include <CLI/CLI.hpp>

namespace telltale::tool {

/// Adds the command to the program; it runs while the command line is parsed
/// and sets `exit_code`.
void add_watch(CLI::App& program, int& exit_code);

}  // namespace telltale::tool
