// telltale-demo DATASETS: makes the demo logs and their profiles anew, writes
// the table in datasets/README.md and prints what a report says of each log
// where that is not what logs.toml expects.
#include <fmt/format.h>

#include <filesystem>
#include <fstream>
#include <iterator>
#include <string>

#include "demo/demo_logs.hpp"
#include "support/exit_codes.hpp"
#include "support/output.hpp"

namespace telltale::tool {
namespace {

constexpr std::string_view kTableBegins =
    "<!-- table: made by telltale-demo -->\n";
constexpr std::string_view kTableEnds = "<!-- end of table -->\n";

bool write_below(const std::string& datasets, const std::string& file,
                 const std::string& bytes) {
  const std::string path = datasets + "/" + file;
  std::error_code ignored;
  std::filesystem::create_directories(std::filesystem::path(path).parent_path(),
                                      ignored);
  const auto error = write_output(path, bytes);
  if (error) complain(*error);
  return !error;
}

bool write_table(const std::string& datasets,
                 const std::vector<DemoLog>& logs) {
  std::ifstream file(datasets + "/README.md");
  std::string text{std::istreambuf_iterator<char>(file), {}};
  const std::size_t begin = text.find(kTableBegins);
  const std::size_t end = text.find(kTableEnds);
  if (begin == text.npos || end == text.npos) {
    complain("README.md has no place for the table");
    return false;
  }
  const std::size_t from = begin + kTableBegins.size();
  text.replace(from, end - from, demo_table(logs));
  return write_below(datasets, "README.md", text);
}

void print_list(std::string_view name,
                const std::vector<std::vector<std::string>>& lists) {
  fmt::print("  {}", name);
  for (const auto& list : lists) {
    fmt::print(" [");
    for (std::size_t i = 0; i < list.size(); ++i) {
      fmt::print("{}\"{}\"", i > 0 ? ", " : "", list[i]);
    }
    fmt::print("]");
  }
  fmt::print("\n");
}

/// Whether the log was made, and the report says what is expected.
bool one(const std::string& datasets, const DemoLog& log) {
  if (!log.make.empty()) {
    const auto made = make_demo_log(log);
    if (!made) {
      complain(made.error());
      return false;
    }
    if (!write_below(datasets, log.file, made->bytes)) return false;
    if (!log.profile.empty() &&
        !write_below(datasets, log.profile, made->profile)) {
      return false;
    }
  }
  const auto outcome = examine_demo_log(log, datasets);
  if (!outcome) {
    complain(outcome.error());
    return false;
  }
  if (outcome->runs == log.runs && outcome->log == log.log) return true;
  fmt::print("{}\n", log.file);
  print_list("runs", outcome->runs);
  print_list("log ", {outcome->log});
  return false;
}

int run(const std::string& datasets) {
  const auto logs = read_demo_logs(datasets);
  if (!logs) {
    complain(logs.error());
    return kCouldNotDo;
  }
  bool good = true;
  for (const DemoLog& log : *logs) good = one(datasets, log) && good;
  good = write_table(datasets, *logs) && good;
  return good ? kNothingFound : kSomethingFound;
}

}  // namespace
}  // namespace telltale::tool

int main(int argc, char** argv) {
  if (argc != 2) {
    telltale::tool::complain("name the datasets folder");
    return telltale::tool::kCouldNotDo;
  }
  return telltale::tool::run(argv[1]);
}
