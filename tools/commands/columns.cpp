// telltale columns LOG [--json] [--save-map FILE] [options]
//
// How a log is understood, before any analysis. Reads the whole log once. A
// journal of alarms is shown as telltale alarms reads it.
#include "commands/columns.hpp"

#include <fmt/format.h>

#include <memory>
#include <nlohmann/json.hpp>
#include <optional>
#include <string>
#include <utility>

#include "alarms/examine_alarms.hpp"
#include "alarms/text_report.hpp"
#include "ingest/byte_store.hpp"
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
int draft(const ColumnsOptions& options, const host::ByteStore& bytes,
          const host::Error& refused) {
  if (options.save_map.empty()) return fail(refused);
  const host::Result<std::string> map = host::Log::draft_map(bytes);
  if (!map) return fail(refused);
  if (const auto error = write_output(options.save_map, *map)) {
    return fail(*error);
  }
  complain(refused);
  complain(
      fmt::format("a map to fill in has been written to {}", options.save_map));
  return kCouldNotDo;
}

/// What a reading of the whole file has shown.
int show(const ColumnsOptions& options, const host::LogLayout& layout,
         const host::LogExtent& extent) {
  const std::string text =
      options.json ? host::log_json(layout, extent).dump(2) + "\n"
                   : host::columns_table(layout, extent.tally, extent.notes);
  if (const auto error = write_output("-", text)) return fail(*error);
  return kNothingFound;
}

/// The file as a journal of alarms; nothing where it is none.
std::optional<host::AlarmReport> journal_in(
    std::shared_ptr<const host::ByteStore> bytes, const host::ReadOptions& read,
    const host::Result<host::Log>& log) {
  if (log && !host::is_journal(*bytes, read, log->layout())) return {};
  host::AlarmOptions how;
  how.read = read;
  auto report = host::examine_alarms(std::move(bytes), how);
  if (!report || report->shape == host::JournalShape::level) return {};
  return std::move(*report);
}

int show_journal(const ColumnsOptions& options,
                 const host::AlarmReport& journal) {
  host::LogExtent extent{journal.tally, {}, {}, host::reading_notes(journal)};
  extent.notes.emplace_back(
      "events, not readings over time: telltale alarms reads them, telltale "
      "report has nothing to judge");
  if (journal.from) extent.first = journal.from->logged;
  if (journal.to) extent.last = journal.to->logged;
  return show(options, journal.layout, extent);
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
  const auto bytes = host::ByteStore::open(options.log);
  if (!bytes) return fail(bytes.error());
  const host::Result<host::Log> log = host::Log::open(*bytes, *read);
  if (options.save_map.empty()) {
    if (const auto journal = journal_in(*bytes, *read, log)) {
      return show_journal(options, *journal);
    }
  }
  if (!log) return draft(options, **bytes, log.error());
  const host::Result<host::LogExtent> extent = host::extent_of(*log);
  if (!extent) return fail(extent.error());
  if (const int code = show(options, log->layout(), *extent);
      code != kNothingFound) {
    return code;
  }
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
