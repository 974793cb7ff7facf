// telltale season report --store FILE [--html|--json|--csv FILE]
//
// Every set of a store at a reference condition: trends, changes, forecasts,
// peers, service, and what to book first. Text on the terminal, other formats
// besides.
#include <fmt/format.h>

#include <memory>
#include <string>

#include "commands/season_parts.hpp"
#include "season/fleet.hpp"
#include "season/season_csv.hpp"
#include "season/season_html.hpp"
#include "season/season_json.hpp"
#include "season/season_text.hpp"
#include "support/exit_codes.hpp"
#include "support/options.hpp"
#include "support/output.hpp"

namespace telltale::tool {
namespace {

namespace season = host::season;

struct SeasonReportOptions {
  CommonOptions common;
  std::string store;
  std::string html;
  std::string json;
  std::string csv;
};

int fail(const host::Error& error) {
  complain(error);
  return kCouldNotDo;
}

/// Where output would go twice to standard output, or over the store.
std::optional<host::Error> clash(const SeasonReportOptions& options) {
  int on_stdout = 0;
  for (const std::string* out : {&options.html, &options.json, &options.csv}) {
    if (*out == "-") ++on_stdout;
    if (!out->empty() && *out == options.store) {
      return host::Error{"is the store", *out, "name another file to write to"};
    }
  }
  if (on_stdout > 1) {
    return host::Error{"only one format can go to standard output", "",
                       "name files for the others"};
  }
  return {};
}

int run_report(const SeasonReportOptions& options) {
  if (const auto error = clash(options)) return fail(*error);
  auto store = season::Store::open(options.store, season::Access::read);
  if (!store) return fail(store.error());
  const auto report = season::season_of(*store, options.common.unit);
  if (!report) return fail(report.error());

  const auto put = [&](const std::string& path, auto&& write) {
    if (path.empty()) return true;
    fmt::memory_buffer out;
    write(out);
    const auto error = write_output(path, {out.data(), out.size()});
    if (error) complain(*error);
    return !error;
  };
  bool good = put(options.html, [&](fmt::memory_buffer& out) {
    season::write_season_html(*report, options.common.units, out);
  });
  good = put(options.json,
             [&](fmt::memory_buffer& out) {
               season::write_season_json(*report, out);
             }) &&
         good;
  good = put(options.csv,
             [&](fmt::memory_buffer& out) {
               season::write_season_csv(*report, out);
             }) &&
         good;
  const bool text = !options.common.quiet && options.html != "-" &&
                    options.json != "-" && options.csv != "-";
  good = put(text ? "-" : "",
             [&](fmt::memory_buffer& out) {
               season::write_season_text(
                   *report,
                   {options.common.units, colour_wanted(options.common)}, out);
             }) &&
         good;
  if (!good) return kCouldNotDo;
  return options.common.fail_on && report->verdict() >= *options.common.fail_on
             ? kSomethingFound
             : kNothingFound;
}

}  // namespace

void add_season_report(CLI::App& season, int& exit_code) {
  CLI::App* command = season.add_subcommand(
      "report", "trends, changes, forecasts, peers and what to book first");
  auto options = std::make_shared<SeasonReportOptions>();
  declare_store(*command, options->store);
  command
      ->add_option("--html", options->html,
                   "write a page with pictures; - is standard output")
      ->type_name("FILE");
  command
      ->add_option("--json", options->json,
                   "write the report as JSON; - is standard output")
      ->type_name("FILE");
  command
      ->add_option("--csv", options->csv,
                   "write one line a set and figure as CSV")
      ->type_name("FILE");
  declare_showing(*command, options->common);
  command->callback(
      [options, &exit_code] { exit_code = run_report(*options); });
}

}  // namespace telltale::tool
