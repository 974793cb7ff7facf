#include "support/options.hpp"

#include <unistd.h>

#include <cstdlib>
#include <map>

namespace telltale::tool {
namespace {

/// Minutes ahead of UTC: "+01:00", "-0530", "Z", "+2".
std::optional<std::int32_t> offset_minutes(const std::string& text) {
  if (text == "Z" || text == "z" || text == "UTC") return 0;
  if (text.size() < 2 || (text[0] != '+' && text[0] != '-')) return {};
  const int sign = text[0] == '-' ? -1 : 1;
  std::string digits;
  for (std::size_t i = 1; i < text.size(); ++i) {
    if (text[i] == ':' && (i == 2 || i == 3)) continue;
    if (text[i] < '0' || text[i] > '9') return {};
    digits += text[i];
  }
  if (digits.empty() || digits.size() > 4) return {};
  const bool only_hours = digits.size() <= 2;
  const int value = std::stoi(digits);
  const int hours = only_hours ? value : value / 100;
  const int minutes = only_hours ? 0 : value % 100;
  if (hours > 14 || minutes > 59) return {};
  return sign * (hours * 60 + minutes);
}

}  // namespace

void declare_reading(CLI::App& command, CommonOptions& options) {
  command
      .add_option("--map", options.map,
                  "TOML file that says how to read this logger's columns")
      ->type_name("FILE");
  command
      .add_option("--timezone", options.timezone,
                  "zone of time stamps that name none, as in +01:00")
      ->type_name("OFFSET");
  const std::map<std::string, host::DateOrder> orders = {
      {"dmy", host::DateOrder::dmy},
      {"mdy", host::DateOrder::mdy},
      {"ymd", host::DateOrder::ymd}};
  command
      .add_option("--date-order", options.date_order,
                  "order of day, month and year where the log leaves it open")
      ->transform(CLI::CheckedTransformer(orders).description(""))
      ->type_name("dmy|mdy|ymd");
}

void declare_judging(CLI::App& command, CommonOptions& options) {
  command
      .add_option("--profile", options.profile,
                  "TOML file with ratings, limits and service of the set")
      ->type_name("FILE");
  const std::map<std::string, host::UnitSystem> systems = {
      {"as-logged", host::UnitSystem::as_logged},
      {"metric", host::UnitSystem::metric},
      {"us", host::UnitSystem::us}};
  command
      .add_option("--units", options.units,
                  "units of the text: a log in psi is answered in psi "
                  "(as-logged), metric or us")
      ->transform(CLI::CheckedTransformer(systems).description(""))
      ->type_name("metric|us|as-logged");
  command
      .add_option("--unit", options.unit,
                  "report only this unit of the log, or name the set")
      ->type_name("NAME");
  command
      .add_option_function<std::string>(
          "--fail-on",
          [&options](const std::string& word) {
            const std::map<std::string, std::optional<Severity>> words = {
                {"note", Severity::note},
                {"attention", Severity::attention},
                {"urgent", Severity::urgent},
                {"never", std::nullopt}};
            options.fail_on = words.at(word);
          },
          "lowest severity that makes the exit code 1 (attention)")
      ->check(CLI::IsMember({"note", "attention", "urgent", "never"})
                  .description(""))
      ->type_name("note|attention|urgent|never");
  command.add_flag("--quiet", options.quiet,
                   "print no text, only set the code");
  command.add_flag("--no-color", options.no_colour, "print without colour");
}

host::Result<host::ReadOptions> read_options(const CommonOptions& options) {
  host::ReadOptions out;
  out.map_path = options.map;
  out.date_order = options.date_order;
  if (!options.timezone.empty()) {
    out.utc_offset_min = offset_minutes(options.timezone);
    if (!out.utc_offset_min) {
      return host::Error{"\"" + options.timezone + "\" is no offset from UTC",
                         "--timezone", "write it like +01:00 or -05:30"};
    }
  }
  return out;
}

host::Result<host::ProfileFile> profile_of(const CommonOptions& options) {
  if (options.profile.empty()) return host::ProfileFile{};
  return host::read_profile(options.profile);
}

bool colour_wanted(const CommonOptions& options) {
  const char* no_color = std::getenv("NO_COLOR");
  return !options.no_colour && (no_color == nullptr || *no_color == '\0') &&
         isatty(STDOUT_FILENO) == 1;
}

}  // namespace telltale::tool
