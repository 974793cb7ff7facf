// telltale season units|runs|forget: looks after a store.
#include <fmt/format.h>

#include <cmath>
#include <memory>
#include <string>

#include "commands/season_parts.hpp"
#include "report/page.hpp"
#include "report/value_text.hpp"
#include "season/dates.hpp"
#include "season/store.hpp"
#include "support/exit_codes.hpp"
#include "support/output.hpp"

namespace telltale::tool {
namespace {

namespace season = host::season;

struct KeepOptions {
  std::string store;
  std::string unit;
  std::string log;
  std::string before;
  bool quiet = false;
};

int fail(const host::Error& error) {
  complain(error);
  return kCouldNotDo;
}

std::string name_of(const std::string& unit) {
  return unit.empty() ? "(no name)" : unit;
}

int print(const fmt::memory_buffer& out) {
  if (const auto error = write_output("-", {out.data(), out.size()})) {
    return fail(*error);
  }
  return kNothingFound;
}

std::string kind_of(const season::UnitDigest& unit) {
  std::string out = unit.model;
  const auto add = [&out](float x, std::string_view symbol) {
    if (!is_known(x)) return;
    out += fmt::format("{}{:.4g} {}", out.empty() ? "" : ", ",
                       static_cast<double>(x), symbol);
  };
  add(unit.rating.power_kw, "kW");
  add(unit.rating.frequency_hz, "Hz");
  return out;
}

int run_units(const KeepOptions& options) {
  auto store = season::Store::open(options.store, season::Access::read);
  if (!store) return fail(store.error());
  const auto units = store->units();
  if (!units) return fail(units.error());
  fmt::memory_buffer out;
  host::Page page(out);
  page.line(fmt::format("{}{:>7}{:>9}  {}  {}  {}", host::pad_right("set", 22),
                        "runs", "hours", host::pad_right("first run", 10),
                        host::pad_right("last run", 10), "kind"));
  for (const season::UnitRow& unit : *units) {
    page.line(fmt::format(
        "{}{:>7}{:>9}  {}  {}  {}",
        host::pad_right(season::cut(name_of(unit.about.name), 21), 22),
        host::grouped(static_cast<double>(unit.runs), 0),
        host::grouped(unit.seconds / 3600.0, 1),
        host::pad_right(season::date_text(unit.first), 10),
        host::pad_right(season::date_text(unit.last), 10),
        season::cut(kind_of(unit.about), 18)));
  }
  return print(out);
}

int run_runs(const KeepOptions& options) {
  auto store = season::Store::open(options.store, season::Access::read);
  if (!store) return fail(store.error());
  const auto runs = store->runs(options.unit);
  if (!runs) return fail(runs.error());
  if (runs->empty() && !options.unit.empty()) {
    return fail({fmt::format("no run of {}", options.unit), store->name(),
                 "telltale season units lists the sets"});
  }
  fmt::memory_buffer out;
  host::Page page(out);
  page.line(fmt::format("{}  {}{:>12}{:>9}  {}  {}",
                        host::pad_right("start", 16),
                        host::pad_right("set", 18), "length", "load",
                        host::pad_right("verdict", 9), "log"));
  for (const season::RunRow& run : *runs) {
    const std::string load = std::isfinite(run.about.load_pct)
                                 ? fmt::format("{:.0f} %", run.about.load_pct)
                                 : "";
    page.line(fmt::format(
        "{}  {}{:>12}{:>9}  {}  {}",
        host::pad_right(season::minute_text(run.about.start), 16),
        host::pad_right(season::cut(name_of(run.unit), 17), 18),
        run.about.seconds > 0 ? host::duration_text(run.about.seconds)
                              : "no start",
        load, host::pad_right(telltale::name_of(run.about.verdict), 9),
        season::cut(run.file, 20)));
  }
  return print(out);
}

int run_forget(const KeepOptions& options) {
  season::ForgetFilter filter;
  filter.unit = options.unit;
  filter.log = options.log;
  if (!options.before.empty()) {
    const auto day = season::parse_date(options.before);
    if (!day) {
      return fail({fmt::format("\"{}\" is no date", options.before), "--before",
                   "write it like 2026-06-01"});
    }
    filter.before = *day;
  }
  auto store = season::Store::open(options.store, season::Access::change);
  if (!store) return fail(store.error());
  const auto gone = store->forget(filter);
  if (!gone) return fail(gone.error());
  if (!options.quiet) {
    fmt::print("{} {} forgotten\n", *gone, *gone == 1 ? "run" : "runs");
  }
  return kNothingFound;
}

}  // namespace

void add_season_units(CLI::App& season, int& exit_code) {
  CLI::App* command =
      season.add_subcommand("units", "lists the sets of a store");
  auto options = std::make_shared<KeepOptions>();
  declare_store(*command, options->store);
  command->callback([options, &exit_code] { exit_code = run_units(*options); });
}

void add_season_runs(CLI::App& season, int& exit_code) {
  CLI::App* command =
      season.add_subcommand("runs", "lists the runs of a store");
  auto options = std::make_shared<KeepOptions>();
  declare_store(*command, options->store);
  command->add_option("--unit", options->unit, "only those of this set")
      ->type_name("NAME");
  command->callback([options, &exit_code] { exit_code = run_runs(*options); });
}

void add_season_forget(CLI::App& season, int& exit_code) {
  CLI::App* command = season.add_subcommand(
      "forget", "takes runs out of a store; the logs themselves stay");
  auto options = std::make_shared<KeepOptions>();
  declare_store(*command, options->store);
  command->add_option("--unit", options->unit, "those of this set")
      ->type_name("NAME");
  command
      ->add_option("--log", options->log,
                   "those of this log: its file name or the start of its hash")
      ->type_name("LOG");
  command
      ->add_option("--before", options->before,
                   "those that began before this day")
      ->type_name("DATE");
  command->add_flag("--quiet", options->quiet, "print nothing");
  command->callback(
      [options, &exit_code] { exit_code = run_forget(*options); });
}

}  // namespace telltale::tool
