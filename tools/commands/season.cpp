// telltale season add|digest|report|units|runs|forget
//
// Keeps runs of many sets in a store and compares them at one condition.
#include "commands/season.hpp"

#include "commands/season_parts.hpp"

namespace telltale::tool {

void declare_store(CLI::App& command, std::string& store) {
  command
      .add_option("--store", store,
                  "the store: a file, or postgresql://... on a server")
      ->required()
      ->type_name("FILE");
}

void add_season(CLI::App& program, int& exit_code) {
  CLI::App* season = program.add_subcommand(
      "season", "many runs: trends, changes, forecasts, peers, what to book");
  season->require_subcommand(1);
  season->footer("telltale season COMMAND --help explains a command.");
  add_season_add(*season, exit_code);
  add_season_report(*season, exit_code);
  add_season_units(*season, exit_code);
  add_season_runs(*season, exit_code);
  add_season_forget(*season, exit_code);
  add_season_digest(*season, exit_code);
}

}  // namespace telltale::tool
