// From words on the command line to scenarios.
#include "commands/simulate_options.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <map>

#include "simulate/everyday.hpp"
#include "simulate/plan.hpp"
#include "simulate/presets.hpp"
#include "simulate/random_scenario.hpp"
#include "simulate/stamp.hpp"

namespace telltale::tool {
namespace {

namespace sim = host::sim;
using host::Error;
using host::Result;

template <class T>
using Words = std::map<std::string, T>;

/// `Spelt` is T, or text that the parser makes a T of.
template <class T, class Spelt = T>
CLI::Option* choice(CLI::App& command, const std::string& name, T& value,
                    const Words<Spelt>& words, const std::string& help) {
  return command.add_option(name, value, help)
      ->transform(
          CLI::CheckedTransformer(words, CLI::ignore_case).description(""))
      ->type_name("WORD");
}

void declare_dialect(CLI::App& command, SimulateOptions& o) {
  const char* group = "How the log is spelt";
  std::vector<CLI::Option*> all;
  using sim::Encoding;
  using sim::HeaderStyle;
  using sim::TimeStyle;
  all.push_back(command
                    .add_option("--units", o.units,
                                "metric or us; each preset has its own")
                    ->transform(CLI::CheckedTransformer(
                                    Words<sim::UnitSystem>{
                                        {"metric", sim::UnitSystem::metric},
                                        {"us", sim::UnitSystem::us}})
                                    .description(""))
                    ->type_name("WORD"));
  all.push_back(choice(
      command, "--delimiter", o.format.delimiter,
      Words<std::string>{
          {"comma", ","}, {"semicolon", ";"}, {"tab", "\t"}, {"pipe", "|"}},
      "comma, semicolon, tab or pipe"));
  all.push_back(choice(command, "--decimal", o.format.decimal,
                       Words<std::string>{{"point", "."}, {"comma", ","}},
                       "point or comma"));
  all.push_back(choice(command, "--line-end", o.format.line_end,
                       {{"lf", "\n"}, {"crlf", "\r\n"}, {"cr", "\r"}},
                       "lf, crlf or cr"));
  all.push_back(choice(command, "--time", o.format.time,
                       {{"iso", TimeStyle::iso},
                        {"iso-utc", TimeStyle::iso_utc},
                        {"iso-offset", TimeStyle::iso_offset},
                        {"epoch", TimeStyle::epoch_s},
                        {"epoch-ms", TimeStyle::epoch_ms},
                        {"elapsed", TimeStyle::elapsed_s},
                        {"elapsed-hms", TimeStyle::elapsed_hms},
                        {"dmy", TimeStyle::day_first},
                        {"mdy", TimeStyle::month_first},
                        {"12-hour", TimeStyle::twelve_hour},
                        {"two-columns", TimeStyle::two_columns}},
                       "iso, iso-utc, iso-offset, epoch, epoch-ms, elapsed, "
                       "elapsed-hms, dmy, mdy, 12-hour or two-columns"));
  all.push_back(command.add_option("--utc-offset", o.format.utc_offset_min,
                                   "zone of the logger's clock, minutes"));
  all.push_back(choice(command, "--header", o.format.header,
                       {{"words", HeaderStyle::words},
                        {"brackets", HeaderStyle::brackets},
                        {"shorthand", HeaderStyle::shorthand},
                        {"snake", HeaderStyle::snake},
                        {"bare", HeaderStyle::bare}},
                       "words, brackets, shorthand, snake or bare"));
  all.push_back(choice(command, "--encoding", o.format.encoding,
                       {{"utf-8", Encoding::utf8},
                        {"utf-8-mark", Encoding::utf8_mark},
                        {"latin-1", Encoding::latin1},
                        {"utf-16-le", Encoding::utf16_le},
                        {"utf-16-be", Encoding::utf16_be}},
                       "utf-8, utf-8-mark, latin-1, utf-16-le or utf-16-be"));
  all.push_back(command.add_flag("--unit-row", o.format.unit_row,
                                 "a row of units under the header"));
  all.push_back(command.add_flag("--quoted-header", o.format.quoted_header,
                                 "headers in quotation marks"));
  all.push_back(command.add_flag("--units-in-cells", o.format.units_in_cells,
                                 "cells like '41 psi'"));
  all.push_back(command.add_option("--preamble", o.format.preamble,
                                   "a line above the header; repeatable"));
  all.push_back(command.add_option(
      "--missing", o.format.missing,
      "spelling of a missing reading; 'bus' for full-scale codes"));
  all.push_back(command.add_option("--unit-column", o.format.unit_column,
                                   "adds a column with this unit name"));
  all.push_back(command.add_option("--repeat-header",
                                   o.format.repeat_header_rows,
                                   "the header again after so many rows"));
  all.push_back(command.add_flag("--cut-last-line", o.format.cut_last_line,
                                 "the last line is cut off"));
  all.push_back(command.add_option(
      "--channels", o.channels,
      "only these columns, in this order (channel names, by commas)"));
  all.back()->delimiter(',');
  all.push_back(
      command.add_flag("--no-state", o.no_state, "no column of states"));
  all.push_back(
      command.add_flag("--no-alarms", o.no_alarms, "no column of alarms"));
  for (CLI::Option* option : all) option->group(group);
  o.drawn.insert(o.drawn.end(), all.begin(), all.end());
}

Result<std::vector<sim::SensorSpec>> chosen(
    const std::vector<std::string>& names,
    const std::vector<sim::SensorSpec>& usual) {
  std::vector<sim::SensorSpec> sensors;
  for (const std::string& name : names) {
    const Channel channel = channel_of(name);
    const auto found =
        std::find_if(usual.begin(), usual.end(),
                     [channel](const auto& s) { return s.channel == channel; });
    if (channel == Channel::none || found == usual.end()) {
      return Error{"--channels: the set logs no '" + name + "'", "",
                   "see the contract's channel names"};
    }
    sensors.push_back(*found);
  }
  return sensors;
}

Result<double> duration_of(const std::string& option, const std::string& text) {
  const auto value = sim::parse_duration(text);
  if (!value || *value < 0.0) {
    return Error{option + ": '" + text + "' is no duration", "",
                 "write seconds, or 45m, 2h, 3d"};
  }
  return *value;
}

Result<std::vector<sim::Scenario>> random_of(const SimulateOptions& o) {
  for (const CLI::Option* option : o.drawn) {
    if (option->count() > 0) {
      return Error{fmt::format("--random draws {} itself", option->get_name()),
                   "", ""};
    }
  }
  std::optional<sim::FaultKind> fault;
  if (!o.faults.empty()) {
    fault = sim::fault_named(o.faults.front());
    if (!fault || o.faults.size() > 1) {
      return Error{"--random takes one fault, by the name of its check", "",
                   "time and size are drawn too"};
    }
  } else if (!o.healthy) {
    sim::Random random(o.seed, "which fault");
    const auto table = sim::fault_table();
    fault = table[random.below(static_cast<std::uint32_t>(table.size()))].kind;
  }
  if (!o.preset.empty()) {
    const auto scenario = sim::preset_scenario(o.preset);
    if (!scenario) return scenario.error();
    if (fault) {
      const std::string why = sim::cannot_have(*fault, scenario->set);
      if (!why.empty()) {
        return Error{o.preset + " cannot have that fault: " + why, "", ""};
      }
    }
  }
  return std::vector{sim::random_scenario(o.seed, o.preset, fault)};
}

Result<std::vector<sim::Fault>> faults_of(const SimulateOptions& o,
                                          const sim::SetSpec& set) {
  if (o.healthy && !o.faults.empty()) {
    return Error{"--healthy and --fault exclude each other", "", ""};
  }
  std::vector<sim::Fault> faults;
  for (const std::string& text : o.faults) {
    const auto fault = sim::parse_fault(text);
    if (!fault) return fault.error();
    const std::string why = sim::cannot_have(fault->kind, set);
    if (!why.empty()) {
      return Error{"the set cannot have '" + text + "': " + why, "", ""};
    }
    faults.push_back(*fault);
  }
  return faults;
}

Result<sim::Scenario> scenario_of(const SimulateOptions& o, int index) {
  const auto length = duration_of("--duration", o.duration);
  if (!length) return length.error();
  if (*length < 300.0) {
    return Error{"--duration: a run takes 5 minutes at least", "", ""};
  }
  const auto every = duration_of("--every", o.every);
  if (!every) return every.error();
  auto scenario = sim::preset_scenario(
      o.preset.empty() ? "split-8" : o.preset,
      o.seed + static_cast<std::uint64_t>(index), *length, o.interval_s);
  if (!scenario) return scenario;
  scenario->environment.sea_c = o.sea_c;
  scenario->environment.air_c = o.air_c;
  scenario->environment.day_k = o.day_swing_k;
  scenario->environment.season_k = o.year_swing_k;
  if (o.runs > 1) sim::repeat_runs(*scenario, o.runs, *every);
  const auto start = sim::parse_stamp(o.start);
  if (!start) {
    return Error{"--start: '" + o.start + "' is no time", "",
                 "write 2026-06-01T08:00:00Z"};
  }
  scenario->clock = *start;
  if (!o.log_from.empty()) {
    const auto from = duration_of("--log-from", o.log_from);
    if (!from) return from.error();
    scenario->log_from_s = *from;
  }
  if (!o.log_to.empty()) {
    const auto to = duration_of("--log-to", o.log_to);
    if (!to) return to.error();
    scenario->log_to_s = *to;
  }
  if (scenario->log_from_s >= scenario->log_to_s) {
    return Error{"--log-from must lie before the end of the log", "", ""};
  }
  if (o.units) {
    scenario->sensors = sim::usual_sensors(scenario->set, *o.units);
  }
  if (!o.channels.empty()) {
    auto sensors = chosen(o.channels, scenario->sensors);
    if (!sensors) return sensors.error();
    scenario->sensors = std::move(*sensors);
  }
  scenario->state_column = !o.no_state;
  scenario->alarm_column = !o.no_alarms;
  scenario->format = o.format;
  if (o.sets > 1) {
    scenario->format.unit_column = fmt::format(
        "{} {}", o.format.unit_column.empty() ? "Set" : o.format.unit_column,
        index + 1);
  }
  if (o.format.delimiter == ',' && o.format.decimal == ',') {
    return Error{"a decimal comma needs another delimiter", "",
                 "add --delimiter semicolon"};
  }
  if (index == 0) {
    auto faults = faults_of(o, scenario->set);
    if (!faults) return faults.error();
    scenario->faults = std::move(*faults);
  }
  return scenario;
}

}  // namespace

void declare(CLI::App& command, SimulateOptions& o) {
  command.add_flag("--list", o.list,
                   "lists presets, and faults with what their size means");
  command.add_option("--preset", o.preset, "which set; see --list");
  command.add_option("--seed", o.seed, "same seed, same bytes");
  command.add_flag(
      "--random", o.random,
      "draws set, weather, loads, sensors, dialect and fault from the seed");
  command.add_flag("--healthy", o.healthy, "no fault");
  command
      .add_option("--fault", o.faults,
                  "CHECK[/CHANNEL]@TIME[:SIZE[:RAMP]], repeatable; with "
                  "--random: CHECK")
      ->allow_extra_args(false);
  command.add_option("--out", o.out, "the log; - is standard output");
  command.add_option("--truth", o.truth, "the truth file, JSON");
  command.add_option("--profile-out", o.profile,
                     "the profile of the (first) set, TOML");
  const auto own = [&](CLI::Option* option) { o.drawn.push_back(option); };
  own(command.add_option("--duration", o.duration,
                         "length of the log: seconds, or 45m, 2h, 3d"));
  own(command.add_option("--interval", o.interval_s, "seconds between rows")
          ->check(CLI::Range(0.02, 3600.0)));
  own(command.add_option("--start", o.start, "time of the first row, UTC"));
  own(command.add_option("--runs", o.runs, "so many runs of that duration")
          ->check(CLI::Range(1, 100000)));
  own(command.add_option("--every", o.every, "from run to run"));
  own(command
          .add_option("--sets", o.sets,
                      "so many sets in one log; the first has the faults")
          ->check(CLI::Range(1, 100)));
  own(command.add_option("--sea", o.sea_c, "temperature of the sea, degC")
          ->check(CLI::Range(-2.0, 35.0)));
  own(command.add_option("--air", o.air_c, "of the engine room, degC")
          ->check(CLI::Range(-20.0, 50.0)));
  own(command.add_option("--day-swing", o.day_swing_k,
                         "air: half the swing from night to day, K"));
  own(command.add_option("--year-swing", o.year_swing_k,
                         "sea and air: half the swing over a year, K"));
  own(command.add_option("--log-from", o.log_from,
                         "the log begins so late: in the run, say"));
  own(command.add_option("--log-to", o.log_to, "and ends so soon"));
  declare_dialect(command, o);
}

Result<std::vector<sim::Scenario>> scenarios_of(const SimulateOptions& o) {
  if (o.random) return random_of(o);
  std::vector<sim::Scenario> scenarios;
  for (int i = 0; i < o.sets; ++i) {
    auto scenario = scenario_of(o, i);
    if (!scenario) return scenario.error();
    scenarios.push_back(std::move(*scenario));
  }
  return scenarios;
}

}  // namespace telltale::tool
