// telltale alarms: which alarms cry wolf, and what would cure them.
#pragma once

#include <CLI/CLI.hpp>

namespace telltale::tool {

void add_alarms(CLI::App& program, int& exit_code);

}  // namespace telltale::tool
