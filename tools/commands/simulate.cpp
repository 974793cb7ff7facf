// telltale simulate: writes the log of a made-up set, with chosen faults at
// chosen times, and its truth file. Memory does not grow with the length,
// except for the truth, which keeps every run.
#include "commands/simulate.hpp"

#include <fmt/format.h>

#include <cstdio>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "commands/simulate_options.hpp"
#include "simulate/presets.hpp"
#include "simulate/profile_writer.hpp"
#include "simulate/truth/truth_writer.hpp"
#include "simulate/write.hpp"

namespace telltale::tool {
namespace {

namespace sim = host::sim;

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
    fmt::print("  {:<25} {}\n", info.check, info.physics);
    if (info.unit != "none") {
      fmt::print("  {:<25} size: {}, default {}\n", "", info.unit, info.size);
    }
    if (info.channel != Channel::none) {
      fmt::print("  {:<25} channel: default {}\n", "",
                 telltale::info_of(info.channel).slug);
    }
  }
}

/// A file, or standard output for "-".
class Output {
 public:
  static host::Result<Output> open(const std::string& path) {
    Output output;
    if (path == "-") {
      output.file_ = {stdout, std::fflush};
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
  /// A full disk may show only now.
  bool close() {
    const auto closer = file_.get_deleter();
    return closer(file_.release()) == 0;
  }

 private:
  std::unique_ptr<std::FILE, int (*)(std::FILE*)> file_{nullptr, std::fclose};
};

std::optional<host::Error> write_text(const std::string& path,
                                      const std::string& text) {
  auto output = Output::open(path);
  if (!output) return output.error();
  const bool written = output->write(text);
  if (!output->close() || !written) {
    return host::Error{"cannot be written", path, "is the disk full?"};
  }
  return std::nullopt;
}

int run(const SimulateOptions& options) {
  if (options.list) {
    list();
    return 0;
  }
  if (options.out == "-" && (options.truth == "-" || options.profile == "-")) {
    return fail(
        {"log and truth cannot share standard output", "", "add --out FILE"});
  }
  const auto scenarios = scenarios_of(options);
  if (!scenarios) return fail(scenarios.error());
  auto output = Output::open(options.out);
  if (!output) return fail(output.error());
  std::vector<sim::SetTruth> truth;
  const bool judged = !options.truth.empty() || !options.profile.empty();
  const auto facts = sim::write_log(
      *scenarios,
      [&output](std::string_view bytes) { return output->write(bytes); },
      judged ? &truth : nullptr);
  if (!facts) return fail(facts.error());
  if (!output->close()) {
    return fail({"cannot be written", options.out, "is the disk full?"});
  }
  if (!options.truth.empty()) {
    if (auto error = write_text(options.truth, sim::write_truth(truth))) {
      return fail(*error);
    }
  }
  if (!options.profile.empty()) {
    const std::string profile = sim::write_profile(truth.front().scenario.set);
    if (auto error = write_text(options.profile, profile)) return fail(*error);
  }
  return 0;
}

}  // namespace

void add_simulate(CLI::App& program, int& exit_code) {
  const auto options = std::make_shared<SimulateOptions>();
  CLI::App* command = program.add_subcommand(
      "simulate", "write the log of a made-up set, and its truth file");
  declare(*command, *options);
  command->callback([options, &exit_code] { exit_code = run(*options); });
}

}  // namespace telltale::tool
