#include "support/options.hpp"

#include <unistd.h>

#include <cstdlib>
#include <map>
#include <type_traits>
#include <vector>

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

/// An option that takes one of a few words.
template <class T>
void choice(CLI::App& command, const std::string& name, T& value,
            const std::map<std::string, std::type_identity_t<T>>& words,
            const std::string& help) {
  std::vector<std::string> names;
  std::string shown;
  for (const auto& [word, meaning] : words) {
    names.push_back(word);
    shown += (shown.empty() ? "" : "|") + word;
  }
  command
      .add_option_function<std::string>(
          name,
          [&value, words](const std::string& word) { value = words.at(word); },
          help)
      ->check(CLI::IsMember(names).description(""))
      ->type_name(shown);
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
  choice(command, "--date-order", options.date_order,
         {{"dmy", host::DateOrder::dmy},
          {"mdy", host::DateOrder::mdy},
          {"ymd", host::DateOrder::ymd}},
         "order of day, month and year where the log leaves it open");
}

void declare_judging(CLI::App& command, CommonOptions& options) {
  command
      .add_option("--profile", options.profile,
                  "TOML file with ratings, limits and service of the set")
      ->type_name("FILE");
  declare_showing(command, options);
}

void declare_showing(CLI::App& command, CommonOptions& options) {
  choice(command, "--units", options.units,
         {{"as-logged", host::UnitSystem::as_logged},
          {"metric", host::UnitSystem::metric},
          {"us", host::UnitSystem::us}},
         "units of the text: a log in psi is answered in psi (as-logged), "
         "metric or us");
  command
      .add_option("--unit", options.unit,
                  "report only this unit of the log, or name the set")
      ->type_name("NAME");
  choice(command, "--fail-on", options.fail_on,
         {{"note", Severity::note},
          {"attention", Severity::attention},
          {"urgent", Severity::urgent},
          {"never", std::nullopt}},
         "lowest severity that makes the exit code 1 (attention)");
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
