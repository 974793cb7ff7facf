// telltale alarms LOG [--html FILE] [--json FILE] [--csv FILE] [options]
//
// The alarm analysis of a journal, or of a log with alarm columns.
#include "commands/alarms.hpp"

#include <fmt/format.h>

#include <memory>
#include <optional>
#include <string>

#include "alarms/csv_report.hpp"
#include "alarms/examine_alarms.hpp"
#include "alarms/html_section.hpp"
#include "alarms/json_report.hpp"
#include "alarms/text_report.hpp"
#include "ingest/columns_text.hpp"
#include "support/exit_codes.hpp"
#include "support/options.hpp"
#include "support/output.hpp"

namespace telltale::tool {
namespace {

struct AlarmsOptions {
  CommonOptions common;
  std::string log;
  std::string html;
  std::string json;
  std::string csv;
  std::string rejects;
  bool columns = false;
};

int fail(const host::Error& error) {
  complain(error);
  return kCouldNotDo;
}

std::string_view view(const fmt::memory_buffer& buffer) {
  return {buffer.data(), buffer.size()};
}

/// A slip of the hand must not write a report over the journal.
std::optional<host::Error> outputs_are_safe(const AlarmsOptions& options) {
  int on_stdout = options.columns ? 1 : 0;
  for (const std::string* out :
       {&options.html, &options.json, &options.csv, &options.rejects}) {
    if (*out == "-") ++on_stdout;
    if (!out->empty() && *out != "-" && *out == options.log) {
      return host::Error{"is the log itself", *out,
                         "name another file to write to"};
    }
  }
  if (on_stdout > 1) {
    return host::Error{"only one format can go to standard output", "",
                       "name files for the others"};
  }
  return {};
}

int run(const AlarmsOptions& options) {
  host::Result<host::ReadOptions> read = read_options(options.common);
  if (!read) return fail(read.error());
  if (const auto error = outputs_are_safe(options)) return fail(*error);
  host::AlarmOptions how;
  how.read = *read;
  how.read.rejects_path = options.rejects;
  how.unit = options.common.unit;
  host::Result<host::AlarmReport> report = [&] {
    ProgressBar bar(options.log, options.common.quiet);
    how.progress = [&bar](double share) { bar.show(share); };
    return host::examine_alarms(options.log, how);
  }();
  if (!report) return fail(report.error());
  const auto write = [&](const std::string& path, auto&& writer) {
    fmt::memory_buffer out;
    writer(out);
    const auto error = write_output(path, view(out));
    if (error) complain(*error);
    return !error;
  };
  bool good = true;
  if (options.columns) {
    const std::string text = host::columns_table(report->layout, report->tally,
                                                 host::reading_notes(*report));
    if (const auto error = write_output("-", text)) return fail(*error);
    return kNothingFound;
  }
  if (!options.html.empty()) {
    good &= write(options.html, [&](fmt::memory_buffer& out) {
      host::write_alarm_page(*report, options.common.units, out);
    });
  }
  if (!options.json.empty()) {
    good &= write(options.json, [&](fmt::memory_buffer& out) {
      host::write_alarm_json(*report, out);
    });
  }
  if (!options.csv.empty()) {
    good &= write(options.csv, [&](fmt::memory_buffer& out) {
      host::write_alarm_csv(*report, out);
    });
  }
  const bool taken =
      options.html == "-" || options.json == "-" || options.csv == "-";
  if (!options.common.quiet && !taken) {
    const host::TextStyle style{options.common.units,
                                colour_wanted(options.common)};
    good &= write("-", [&](fmt::memory_buffer& out) {
      host::write_alarm_text(*report, style, out);
    });
  }
  if (!good) return kCouldNotDo;
  const bool found =
      options.common.fail_on && report->verdict() >= *options.common.fail_on;
  return found ? kSomethingFound : kNothingFound;
}

}  // namespace

void add_alarms(CLI::App& program, int& exit_code) {
  CLI::App* command = program.add_subcommand(
      "alarms",
      "which alarms cry wolf, which came first, what would cure them");
  auto options = std::make_shared<AlarmsOptions>();
  command
      ->add_option("LOG", options->log,
                   "an alarm journal, or a log with alarm columns; - is "
                   "standard input")
      ->required();
  command
      ->add_option("--html", options->html,
                   "write a page that needs no other file")
      ->type_name("FILE");
  command
      ->add_option("--json", options->json,
                   "write the analysis as JSON; - is standard output")
      ->type_name("FILE");
  command->add_option("--csv", options->csv, "write one line an alarm as CSV")
      ->type_name("FILE");
  command
      ->add_option("--rejects", options->rejects,
                   "keep every line that could not be read, byte for byte")
      ->type_name("FILE");
  command->add_flag("--columns", options->columns,
                    "show how the columns are understood, and stop");
  declare_reading(*command, options->common);
  declare_judging(*command, options->common);
  command->callback([options, &exit_code] { exit_code = run(*options); });
}

}  // namespace telltale::tool
