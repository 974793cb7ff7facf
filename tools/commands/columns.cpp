// telltale columns LOG [--json] [--save-map FILE] [options]
//
// How a log is understood, before any analysis. Reads the whole log once.
#include "commands/columns.hpp"

#include <fmt/format.h>

#include <memory>
#include <nlohmann/json.hpp>
#include <string>

#include "ingest/columns_text.hpp"
#include "ingest/log_json.hpp"
#include "support/exit_codes.hpp"
#include "support/options.hpp"
#include "support/output.hpp"

namespace telltale::tool {
namespace {

struct ColumnsOptions {
  CommonOptions common;
  std::string log;
  std::string save_map;
  std::string rejects;
  bool json = false;
};

int fail(const host::Error& error) {
  complain(error);
  return kCouldNotDo;
}

/// A log without a header is refused, but its map can be begun.
int draft(const ColumnsOptions& options, const host::Error& refused) {
  if (options.save_map.empty()) return fail(refused);
  const host::Result<std::string> map = host::Log::draft_map(options.log);
  if (!map) return fail(refused);
  if (const auto error = write_output(options.save_map, *map)) {
    return fail(*error);
  }
  complain(refused);
  complain(
      fmt::format("a map to fill in has been written to {}", options.save_map));
  return kCouldNotDo;
}

int run(const ColumnsOptions& options) {
  host::Result<host::ReadOptions> read = read_options(options.common);
  if (!read) return fail(read.error());
  for (const std::string* out : {&options.save_map, &options.rejects}) {
    if (out->empty()) continue;
    if (const auto error = would_overwrite(*out, {options.log})) {
      return fail(*error);
    }
  }
  read->rejects_path = options.rejects;
  const host::Result<host::Log> log = host::Log::open(options.log, *read);
  if (!log) return draft(options, log.error());
  const host::Result<host::LogExtent> extent = host::extent_of(*log);
  if (!extent) return fail(extent.error());
  const std::string text =
      options.json
          ? host::log_json(log->layout(), *extent).dump(2) + "\n"
          : host::columns_table(log->layout(), extent->tally, extent->notes);
  if (const auto error = write_output("-", text)) return fail(*error);
  if (!options.save_map.empty()) {
    if (const auto error = write_output(options.save_map, log->map())) {
      return fail(*error);
    }
  }
  if (extent->tally.rows == 0) {
    return fail({"not one usable row", options.log,
                 "correct the columns with --save-map and --map"});
  }
  return kNothingFound;
}

}  // namespace

void add_columns(CLI::App& program, int& exit_code) {
  CLI::App* command = program.add_subcommand(
      "columns", "how a log is understood, before any analysis");
  auto options = std::make_shared<ColumnsOptions>();
  command->add_option("LOG", options->log, "a log; - is standard input")
      ->required();
  command->add_flag("--json", options->json, "as the report's log object");
  command
      ->add_option("--save-map", options->save_map,
                   "write a map to edit and pass back with --map")
      ->type_name("FILE");
  command
      ->add_option("--rejects", options->rejects,
                   "keep every line that could not be read, byte for byte")
      ->type_name("FILE");
  declare_reading(*command, options->common);
  command->callback([options, &exit_code] { exit_code = run(*options); });
}

}  // namespace telltale::tool
