// The commands of telltale season, each in a file of its own.
#pragma once

#include <CLI/CLI.hpp>
#include <string>

namespace telltale::tool {

void add_season_add(CLI::App& season, int& exit_code);
void add_season_digest(CLI::App& season, int& exit_code);
void add_season_report(CLI::App& season, int& exit_code);
void add_season_units(CLI::App& season, int& exit_code);
void add_season_runs(CLI::App& season, int& exit_code);
void add_season_forget(CLI::App& season, int& exit_code);

/// Declares --store FILE, which every one but digest needs.
void declare_store(CLI::App& command, std::string& store);

}  // namespace telltale::tool
