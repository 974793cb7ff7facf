// telltale-score: recall, delay and false findings over a generated corpus.
//
// telltale-score [--seeds N] [--healthy N] [--first SEED] [--only CHECK]...
//                [--markdown] [--details]
#include <fmt/format.h>
#include <unistd.h>

#include <CLI/CLI.hpp>
#include <algorithm>
#include <cmath>
#include <filesystem>
#include <string>
#include <thread>
#include <vector>

#include "score/corpus.hpp"

namespace telltale::tool {
namespace {

namespace sim = host::sim;

struct Options {
  int seeds = 20;
  int healthy = 200;
  std::uint64_t first = 1;
  std::vector<std::string> only;
  bool markdown = false;
  bool details = false;
};

struct Line {  // of the table
  std::string check;
  int cases = 0;
  int found = 0;
  int right = 0;
  std::vector<double> delays{};
};

double median(std::vector<double> values) {
  if (values.empty()) return std::nan("");
  std::sort(values.begin(), values.end());
  return values[values.size() / 2];
}

std::string name_of(const CorpusCase& which) {
  return which.fault ? std::string(sim::info_of(*which.fault).check)
                     : std::string("healthy");
}

void print_details(const CaseResult& r) {
  const std::string name = name_of(r.which);
  if (!r.error.empty()) {
    fmt::print("error   {} seed {}: {}\n", name, r.which.seed, r.error);
  }
  if (r.which.fault && r.observable && !r.found && r.error.empty()) {
    fmt::print("missed  {} seed {}\n", name, r.which.seed);
  }
  for (const FalseFinding& f : r.false_findings) {
    fmt::print("false   {} {} {} at {} in {} seed {}\n", f.severity, f.check,
               f.channel, f.from, name, r.which.seed);
  }
  for (const FalseFinding& f : r.false_notes) {
    fmt::print("note    {} {} at {} in {} seed {}\n", f.check, f.channel,
               f.from, name, r.which.seed);
  }
}

int run(const Options& options) {
  std::vector<CorpusCase> cases;
  for (const sim::FaultInfo& info : sim::fault_table()) {
    const bool wanted = options.only.empty() ||
                        std::find(options.only.begin(), options.only.end(),
                                  info.check) != options.only.end();
    if (!wanted) continue;
    for (int i = 0; i < options.seeds; ++i) {
      cases.push_back(
          {options.first + static_cast<std::uint64_t>(i), info.kind});
    }
  }
  const bool healthy_wanted =
      options.only.empty() ||
      std::find(options.only.begin(), options.only.end(), "healthy") !=
          options.only.end();
  for (int i = 0; healthy_wanted && i < options.healthy; ++i) {
    cases.push_back({options.first + static_cast<std::uint64_t>(i), {}});
  }
  const std::filesystem::path folder =
      std::filesystem::temp_directory_path() /
      fmt::format("telltale-score-{}", getpid());
  std::filesystem::create_directories(folder);
  const unsigned threads = std::max(1U, std::thread::hardware_concurrency());
  const std::vector<CaseResult> results =
      examine_corpus(cases, folder.string(), threads);
  std::filesystem::remove_all(folder);

  std::vector<Line> lines;
  double healthy_h = 0.0;
  int healthy_false = 0;
  int healthy_cases = 0;
  int healthy_notes = 0;
  int fault_false = 0;
  double fault_h = 0.0;
  int errors = 0;
  for (const CaseResult& r : results) {
    if (options.details) print_details(r);
    if (!r.error.empty()) ++errors;
    const int wrong = static_cast<int>(r.false_findings.size());
    if (!r.which.fault) {
      ++healthy_cases;
      healthy_h += r.running_h;
      healthy_false += wrong;
      healthy_notes += static_cast<int>(r.false_notes.size());
      continue;
    }
    fault_false += wrong;
    fault_h += r.running_h;
    const std::string name = name_of(r.which);
    if (lines.empty() || lines.back().check != name) lines.push_back({name});
    if (!r.observable) continue;
    Line& line = lines.back();
    ++line.cases;
    if (!r.found) continue;
    ++line.found;
    line.right += r.severity_right ? 1 : 0;
    line.delays.push_back(r.delay_s);
  }
  int all = 0;
  int found = 0;
  const char* row = options.markdown ? "| {} | {} | {} | {} | {} |\n"
                                     : "{:<26}{:>7}{:>9}{:>10}{:>12}\n";
  fmt::print(fmt::runtime(row), "check", "cases", "recall", "severity",
             "median delay");
  if (options.markdown) fmt::print("|---|---|---|---|---|\n");
  for (const Line& line : lines) {
    all += line.cases;
    found += line.found;
    const auto percent = [](int part, int whole) {
      return whole > 0 ? fmt::format("{:.1f} %", 100.0 * part / whole)
                       : std::string("-");
    };
    fmt::print(fmt::runtime(row), line.check, line.cases,
               percent(line.found, line.cases), percent(line.right, line.found),
               line.delays.empty()
                   ? std::string("-")
                   : fmt::format("{:.1f} s", median(line.delays)));
  }
  if (all > 0) {
    fmt::print("\noverall recall {:.2f} % of {} observable faults\n",
               100.0 * found / all, all);
    fmt::print(
        "logs with a fault: {} findings too many at attention or above "
        "in {:.0f} h\n",
        fault_false, fault_h);
  }
  if (healthy_cases > 0) {
    fmt::print(
        "healthy: {} false findings at attention or above in {:.0f} running "
        "hours of {} logs: {:.3f} per 100 h; {} notes\n",
        healthy_false, healthy_h, healthy_cases,
        healthy_h > 0 ? 100.0 * healthy_false / healthy_h : 0.0, healthy_notes);
  }
  if (errors > 0) fmt::print("{} logs could not be examined\n", errors);
  return errors > 0 ? 2 : 0;
}

}  // namespace
}  // namespace telltale::tool

int main(int argc, char** argv) {
  telltale::tool::Options options;
  CLI::App program("Scores the checks over made-up logs with known faults.");
  program.add_option("--seeds", options.seeds, "logs for every fault");
  program.add_option("--healthy", options.healthy, "healthy logs");
  program.add_option("--first", options.first, "first seed");
  program.add_option("--only", options.only, "only these checks, or healthy");
  program.add_flag("--markdown", options.markdown, "the table in Markdown");
  program.add_flag("--details", options.details,
                   "every miss and false finding");
  CLI11_PARSE(program, argc, argv);
  return telltale::tool::run(options);
}
