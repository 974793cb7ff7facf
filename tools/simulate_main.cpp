// The simulate command as a program of its own.
#include "commands/simulate.hpp"

int main(int argc, char** argv) {
  CLI::App program("made-up logs of generator sets");
  program.require_subcommand(1);
  int exit_code = 0;
  telltale::tool::add_simulate(program, exit_code);
  try {
    program.parse(argc, argv);
  } catch (const CLI::ParseError& error) {
    return program.exit(error) == 0 ? 0 : 2;
  }
  return exit_code;
}
