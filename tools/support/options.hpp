// The options that several commands share.
#pragma once

#include <CLI/CLI.hpp>
#include <optional>
#include <string>

#include "ingest/log.hpp"
#include "profile/profile_file.hpp"
#include "report/value_text.hpp"
#include "support/result.hpp"
#include "telltale/detect/severity.hpp"

namespace telltale::tool {

/// As given on the command line.
struct CommonOptions {
  std::string profile;
  std::string map;
  host::UnitSystem units = host::UnitSystem::as_logged;
  std::string timezone;
  std::optional<host::DateOrder> date_order;
  std::string unit;
  /// Lowest severity that makes the exit code 1; nothing for `never`.
  std::optional<Severity> fail_on = Severity::attention;
  bool quiet = false;
  bool no_colour = false;
};

/// Declares how a log is read: --map, --timezone, --date-order.
void declare_reading(CLI::App& command, CommonOptions& options);
/// Declares how it is judged and shown: --profile and the rest.
void declare_judging(CLI::App& command, CommonOptions& options);
/// Declares how a report is shown: --units, --unit, --fail-on, --quiet,
/// --no-color.
void declare_showing(CLI::App& command, CommonOptions& options);

/// What the reading layer wants to know. An offset that can't be read is an
/// Error.
host::Result<host::ReadOptions> read_options(const CommonOptions& options);

/// The profile file, or an empty one where none was named.
host::Result<host::ProfileFile> profile_of(const CommonOptions& options);

/// Whether standard output takes colour.
bool colour_wanted(const CommonOptions& options);

}  // namespace telltale::tool
