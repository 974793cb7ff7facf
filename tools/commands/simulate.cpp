// telltale simulate: writes the log of a made-up set, with chosen faults at
// chosen times, and its truth file. Memory does not grow with the length.
#include "commands/simulate.hpp"

#include <fmt/format.h>

#include <cstdio>
#include <map>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "simulate/presets.hpp"
#include "simulate/profile_writer.hpp"
#include "simulate/truth/truth_writer.hpp"
#include "simulate/write.hpp"

namespace telltale::tool {
namespace {

namespace sim = host::sim;

struct Options {
  std::string preset = "split-8";
  std::uint64_t seed = 1;
  std::string duration = "70m";
  double interval_s = 1.0;
  std::string start = "2026-06-01T08:00:00Z";
  std::vector<std::string> faults;
  std::string out = "-";
  std::string truth;
  std::string profile;
  std::optional<sim::UnitSystem> units;
  sim::LogFormat format;
  bool list = false;
};

int fail(const host::Error& error) {
  fmt::print(stderr, "telltale simulate: {}\n", error.line());
  return 2;
}

void list() {
  fmt::print("presets\n");
  for (const sim::PresetInfo& preset : sim::presets()) {
    fmt::print("  {:<12} {}\n", preset.name, preset.about);
  }
  fmt::print("\nfaults: CHECK[/CHANNEL]@TIME[:SIZE[:RAMP]]\n");
  for (const sim::FaultInfo& info : sim::fault_table()) {
    fmt::print("  {:<25} {}\n  {:<25} size: {}, default {}\n", info.check,
               info.physics, "", info.unit, info.size);
  }
}

/// A file, or standard output for "-".
class Output {
 public:
  static host::Result<Output> open(const std::string& path) {
    Output output;
    if (path == "-") {
      output.file_ = {stdout, [](std::FILE*) { return 0; }};
    } else {
      output.file_ = {std::fopen(path.c_str(), "wb"), std::fclose};
    }
    if (!output.file_) {
      return host::Error{"cannot be written", path, "check folder and rights"};
    }
    return output;
  }
  bool write(std::string_view text) {
    return std::fwrite(text.data(), 1, text.size(), file_.get()) == text.size();
  }

 private:
  std::unique_ptr<std::FILE, int (*)(std::FILE*)> file_{nullptr, std::fclose};
};

std::optional<host::Error> write_text(const std::string& path,
                                      const std::string& text) {
  auto output = Output::open(path);
  if (!output) return output.error();
  if (!output->write(text)) {
    return host::Error{"cannot be written", path, "is the disk full?"};
  }
  return std::nullopt;
}

host::Result<sim::Scenario> scenario_of(const Options& options) {
  const auto length = sim::parse_duration(options.duration);
  if (!length || *length <= 0.0) {
    return host::Error{"--duration '" + options.duration + "' is no duration",
                       "", "write seconds, or 45m, 2h, 3d"};
  }
  auto scenario = sim::preset_scenario(options.preset, options.seed, *length,
                                       options.interval_s);
  if (!scenario) return scenario;
  scenario->format = options.format;
  if (options.units) {
    scenario->sensors = sim::usual_sensors(scenario->set, *options.units);
  }
  for (const std::string& text : options.faults) {
    const auto fault = sim::parse_fault(text);
    if (!fault) return fault.error();
    scenario->faults.push_back(*fault);
  }
  return scenario;
}

int run(const Options& options) {
  if (options.list) {
    list();
    return 0;
  }
  const auto scenario = scenario_of(options);
  if (!scenario) return fail(scenario.error());
  auto output = Output::open(options.out);
  if (!output) return fail(output.error());

  sim::Truth truth;
  sim::Scenario ran;
  const auto facts = sim::write_log(
      *scenario,
      [&output](std::string_view bytes) { return output->write(bytes); },
      options.truth.empty() ? nullptr : &truth, &ran);
  if (!facts) return fail(facts.error());
  if (!options.truth.empty()) {
    if (auto error = write_text(options.truth, sim::truth_json(truth, ran))) {
      return fail(*error);
    }
  }
  if (!options.profile.empty()) {
    if (auto error = write_text(options.profile, sim::profile_toml(ran.set))) {
      return fail(*error);
    }
  }
  return 0;
}

}  // namespace

void add_simulate(CLI::App& program, int& exit_code) {
  const auto options = std::make_shared<Options>();
  CLI::App* command = program.add_subcommand(
      "simulate", "write the log of a made-up set, and its truth file");
  command->add_option("--preset", options->preset, "which set; see --list");
  command->add_option("--seed", options->seed, "same seed, same bytes");
  command->add_option("--duration", options->duration,
                      "length of the log: seconds, or 45m, 2h, 3d");
  command->add_option("--interval", options->interval_s, "seconds between rows")
      ->check(CLI::Range(0.02, 3600.0));
  command->add_option("--fault", options->faults,
                      "CHECK[/CHANNEL]@TIME[:SIZE[:RAMP]]; may be repeated");
  command->add_option("--out", options->out, "the log; - is standard output");
  command->add_option("--truth", options->truth, "the truth file, JSON");
  command->add_option("--profile-out", options->profile,
                      "the profile of the set, TOML");
  const std::map<std::string, sim::UnitSystem> units = {
      {"metric", sim::UnitSystem::metric}, {"us", sim::UnitSystem::us}};
  command->add_option("--units", options->units, "metric or us")
      ->transform(CLI::CheckedTransformer(units));
  command->add_flag("--list", options->list,
                    "presets, and faults with what their size means");
  command->callback([options, &exit_code] { exit_code = run(*options); });
}

}  // namespace telltale::tool
