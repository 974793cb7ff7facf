// telltale season add LOG... --store FILE, and telltale season digest LOG...
//
// add reads logs and digest files on all cores and keeps what a season needs
// of them; digest writes that to standard output instead, to be added
// elsewhere. Memory does not grow with the number of logs.
#include <fmt/format.h>

#include <memory>
#include <string>
#include <vector>

#include "commands/season_parts.hpp"
#include "season/add_logs.hpp"
#include "season/digest_file.hpp"
#include "season/digest_log.hpp"
#include "season/find_logs.hpp"
#include "support/exit_codes.hpp"
#include "support/options.hpp"
#include "support/output.hpp"

namespace telltale::tool {
namespace {

namespace season = host::season;

struct AddingOptions {
  CommonOptions common;
  std::vector<std::string> logs;
  std::string store;
  unsigned jobs = 0;
};

int fail(const host::Error& error) {
  complain(error);
  return kCouldNotDo;
}

void declare_both(CLI::App& command, AddingOptions& options) {
  command
      .add_option("LOG", options.logs,
                  "logs, digests, folders, or patterns in quotes")
      ->required();
  declare_reading(command, options.common);
  command
      .add_option("--profile", options.common.profile,
                  "TOML file with ratings, limits and service of the set")
      ->type_name("FILE");
  command
      .add_option("--unit", options.common.unit,
                  "take only this unit of the logs, or name the set")
      ->type_name("NAME");
}

host::Result<host::SessionOptions> session_of(const AddingOptions& options) {
  host::SessionOptions session;
  const auto read = read_options(options.common);
  if (!read) return read.error();
  const auto profile = profile_of(options.common);
  if (!profile) return profile.error();
  session.read = *read;
  session.profile = *profile;
  session.unit = options.common.unit;
  return session;
}

std::string counted(std::size_t n, std::string_view one,
                    std::string_view many) {
  return fmt::format("{} {}", host::grouped(static_cast<double>(n), 0),
                     n == 1 ? one : many);
}

void tell(const season::AddSummary& done, std::size_t sets) {
  std::string line =
      fmt::format("{} added with {} new", counted(done.added, "log", "logs"),
                  counted(done.runs, "run", "runs"));
  if (done.runs_replaced > 0) {
    line += fmt::format(" ({} seen more of now)", done.runs_replaced);
  }
  if (done.runs_known > 0) {
    line += fmt::format("; {} known from other logs",
                        counted(done.runs_known, "run", "runs"));
  }
  if (done.known > 0) {
    line += fmt::format("; {} in the store already",
                        counted(done.known, "log", "logs"));
  }
  if (done.failed > 0) line += fmt::format("; {} not readable", done.failed);
  line += fmt::format("; the store holds {}", counted(sets, "set", "sets"));
  fmt::print("{}\n", line);
}

int run_add(const AddingOptions& options) {
  const auto files = season::find_logs(options.logs);
  if (!files) return fail(files.error());
  const auto session = session_of(options);
  if (!session) return fail(session.error());
  auto store = season::Store::open(options.store, season::Access::write);
  if (!store) return fail(store.error());

  season::AddOptions adding;
  adding.session = *session;
  adding.jobs = options.jobs;
  ProgressBar bar(counted(files->size(), "log", "logs"), options.common.quiet);
  adding.progress = [&bar](std::size_t done, std::size_t all) {
    bar.show(static_cast<double>(done) / static_cast<double>(all));
  };
  adding.trouble = [](const host::Error& error) { complain(error); };
  const auto done = season::add_logs(*store, *files, adding);
  if (!done) return fail(done.error());
  if (done->unnamed > 0) {
    complain(fmt::format(
        "{} no set: they count as one without a name; "
        "--unit or a profile names it",
        done->unnamed == 1 ? "1 log names"
                           : fmt::format("{} logs name", done->unnamed)));
  }
  if (!options.common.quiet) {
    const auto units = store->units();
    if (!units) return fail(units.error());
    tell(*done, units->size());
  }
  return done->failed > 0 ? kCouldNotDo : kNothingFound;
}

int run_digest(const AddingOptions& options) {
  const auto files = season::find_logs(options.logs);
  if (!files) return fail(files.error());
  const auto session = session_of(options);
  if (!session) return fail(session.error());
  int code = kNothingFound;
  for (const std::string& file : *files) {
    const auto digested = season::digest_log(file, *session);
    if (!digested) {
      code = fail(digested.error());
      continue;
    }
    fmt::memory_buffer lines;
    season::write_digest(digested->digest, lines);
    if (const auto error = write_output("-", {lines.data(), lines.size()})) {
      return fail(*error);
    }
  }
  return code;
}

}  // namespace

void add_season_add(CLI::App& season, int& exit_code) {
  CLI::App* command =
      season.add_subcommand("add", "adds the runs of logs to a store");
  auto options = std::make_shared<AddingOptions>();
  declare_both(*command, *options);
  declare_store(*command, options->store);
  command
      ->add_option("--jobs", options->jobs,
                   "logs read at the same time; 0: one a core")
      ->check(CLI::Range(0, 256));
  command->add_flag("--quiet", options->common.quiet, "print no summary");
  command->callback([options, &exit_code] { exit_code = run_add(*options); });
}

void add_season_digest(CLI::App& season, int& exit_code) {
  CLI::App* command = season.add_subcommand(
      "digest", "writes what add would keep, to be added elsewhere");
  auto options = std::make_shared<AddingOptions>();
  declare_both(*command, *options);
  command->callback(
      [options, &exit_code] { exit_code = run_digest(*options); });
}

}  // namespace telltale::tool
