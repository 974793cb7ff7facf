// The telltale program: the table of commands, and errors to exit codes.
#include <CLI/CLI.hpp>
#include <exception>
#include <string>

#include "commands/alarms.hpp"
#include "commands/checks.hpp"
#include "commands/columns.hpp"
#include "commands/events.hpp"
#include "commands/report.hpp"
#include "commands/season.hpp"
#include "commands/simulate.hpp"
#include "commands/watch.hpp"
#include "support/exit_codes.hpp"
#include "support/output.hpp"
#include "telltale/base/version.hpp"

int main(int argc, char** argv) {
  namespace tool = telltale::tool;
  CLI::App program(
      "Health reports from the logs of marine diesel generator sets.");
  program.set_version_flag("--version",
                           std::string("telltale ") + telltale::kVersion);
  program.require_subcommand(1);
  program.footer("telltale COMMAND --help explains a command.");
  int exit_code = tool::kNothingFound;
  tool::add_report(program, exit_code);
  tool::add_columns(program, exit_code);
  tool::add_season(program, exit_code);
  tool::add_alarms(program, exit_code);
  tool::add_checks(program, exit_code);
  tool::add_simulate(program, exit_code);
  tool::add_watch(program, exit_code);
  tool::add_events(program, exit_code);
  try {
    if (argc > 1 && argv[1][0] != '-')
      static_cast<void>(program.get_subcommand(argv[1]));
    program.parse(argc, argv);
  } catch (const CLI::Success& wanted) {  // --help, --version
    return program.exit(wanted);
  } catch (const CLI::OptionNotFound&) {
    tool::complain("there is no command \"" + std::string(argv[1]) +
                   "\"; telltale --help lists what there is");
    return tool::kCouldNotDo;
  } catch (const CLI::ParseError& error) {
    tool::complain(std::string(error.what()) +
                   "; telltale --help lists what there is");
    return tool::kCouldNotDo;
  } catch (const std::exception& error) {  // out of memory, mostly
    tool::complain(std::string("gave up: ") + error.what());
    return tool::kCouldNotDo;
  }
  return exit_code;
}
