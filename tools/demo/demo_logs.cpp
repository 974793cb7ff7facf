#include "demo/demo_logs.hpp"

#include <fmt/format.h>

#include <toml++/toml.h>
#include <CLI/CLI.hpp>
#include <sstream>
#include <string_view>

#include "commands/simulate_options.hpp"
#include "session/session.hpp"
#include "simulate/profile_writer.hpp"
#include "simulate/write.hpp"
#include "telltale/detect/severity.hpp"

namespace telltale::tool {
namespace {

namespace sim = host::sim;

using Findings = std::vector<std::string>;

std::string text_of(const toml::table& table, std::string_view key) {
  return table[key].value_or(std::string());
}

Findings strings_of(const toml::node* node) {
  Findings out;
  if (node == nullptr || !node->is_array()) return out;
  for (const toml::node& item : *node->as_array()) {
    out.push_back(item.value_or(std::string()));
  }
  return out;
}

DemoLog log_of(const toml::table& table) {
  DemoLog out;
  out.file = text_of(table, "file");
  out.profile = text_of(table, "profile");
  out.map = text_of(table, "map");
  out.make = text_of(table, "make");
  out.about = text_of(table, "about");
  if (const toml::array* runs = table["runs"].as_array()) {
    for (const toml::node& run : *runs) out.runs.push_back(strings_of(&run));
  }
  out.log = strings_of(table.get("log"));
  return out;
}

std::string line_of(const host::FindingReport& finding) {
  return fmt::format("{} {}", name_of(finding.finding.severity),
                     finding.check->info->slug);
}

Findings lines_of(const std::vector<host::FindingReport>& findings) {
  Findings out;
  for (const host::FindingReport& finding : findings) {
    out.push_back(line_of(finding));
  }
  return out;
}

/// "healthy", or the findings by name.
std::string expectation(const DemoLog& log) {
  std::string out;
  const auto add = [&out](std::string_view where, const Findings& findings) {
    if (!out.empty()) out += "; ";
    out += where;
    if (findings.empty()) out += "healthy";
    for (std::size_t i = 0; i < findings.size(); ++i) {
      out += (i > 0 ? ", " : "") + findings[i];
    }
  };
  for (std::size_t i = 0; i < log.runs.size(); ++i) {
    add(log.runs.size() > 1 ? fmt::format("run {}: ", i + 1) : "", log.runs[i]);
  }
  if (log.runs.empty()) out += "no run";
  if (!log.log.empty()) add("log: ", log.log);
  return out;
}

}  // namespace

host::Result<std::vector<DemoLog>> read_demo_logs(const std::string& datasets) {
  const std::string path = datasets + "/logs.toml";
  std::vector<DemoLog> out;
  try {
    const toml::table list = toml::parse_file(path);
    const toml::array* logs = list["log"].as_array();
    if (logs == nullptr) return host::Error{"lists no logs", path, ""};
    for (const toml::node& log : *logs) {
      if (const toml::table* table = log.as_table()) {
        out.push_back(log_of(*table));
      }
    }
  } catch (const toml::parse_error& error) {
    return host::Error{std::string(error.description()),
                       fmt::format("{}:{}", path, error.source().begin.line),
                       ""};
  }
  return out;
}

host::Result<MadeLog> make_demo_log(const DemoLog& log) {
  SimulateOptions options;
  CLI::App command;
  declare(command, options);
  try {
    command.parse(log.make);
  } catch (const CLI::ParseError& error) {
    return host::Error{error.what(), log.file, "see its `make` in logs.toml"};
  }
  const auto scenarios = scenarios_of(options);
  if (!scenarios) return scenarios.error();
  MadeLog out;
  std::vector<sim::SetTruth> truth;
  const auto facts = sim::write_log(
      *scenarios,
      [&out](std::string_view bytes) {
        out.bytes += bytes;
        return true;
      },
      &truth);
  if (!facts) return facts.error();
  out.profile = sim::write_profile(truth.front().scenario.set);
  return out;
}

host::Result<host::HealthReport> report_on(const DemoLog& log,
                                           const std::string& datasets,
                                           host::Threads threads) {
  host::SessionOptions options;
  options.threads = threads;
  if (!log.profile.empty()) {
    auto profile = host::read_profile(datasets + "/" + log.profile);
    if (!profile) return profile.error();
    options.profile = *profile;
  }
  if (!log.map.empty()) options.read.map_path = datasets + "/" + log.map;
  return host::examine(datasets + "/" + log.file, options);
}

host::Result<DemoOutcome> examine_demo_log(const DemoLog& log,
                                           const std::string& datasets) {
  const auto report = report_on(log, datasets);
  if (!report) return report.error();
  DemoOutcome out;
  for (const host::RunReport& run : report->runs) {
    out.runs.push_back(lines_of(run.findings));
  }
  out.log = lines_of(report->findings);
  return out;
}

std::string demo_table(const std::vector<DemoLog>& logs) {
  std::string out =
      "| log | what is in it | expected | how it was made |\n"
      "| --- | --- | --- | --- |\n";
  for (const DemoLog& log : logs) {
    out += fmt::format("| [{0}]({0}) | {1} | {2} | {3} |\n", log.file,
                       log.about, expectation(log),
                       log.make.empty() ? "by hand" : "`" + log.make + "`");
  }
  return out;
}

}  // namespace telltale::tool
