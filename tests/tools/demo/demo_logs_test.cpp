// Every demo log is what its recipe makes, and a report on it says what the
// list expects.
#include "demo/demo_logs.hpp"

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <string>
#include <vector>

#include "catch.hpp"
#include "checks/catalogue.hpp"

namespace telltale::tool {
namespace {

const std::string kDatasets = TELLTALE_DATASETS;

std::string bytes_of(const std::string& file) {
  std::ifstream in(kDatasets + "/" + file, std::ios::binary);
  return {std::istreambuf_iterator<char>(in), {}};
}

std::vector<DemoLog> listed() {
  const auto logs = read_demo_logs(kDatasets);
  REQUIRE(static_cast<bool>(logs));
  REQUIRE(logs->size() > 50);
  return *logs;
}

TEST_CASE("demo logs are what their recipes make, byte for byte") {
  for (const DemoLog& log : listed()) {
    if (log.make.empty()) continue;
    INFO(log.file);
    const auto made = make_demo_log(log);
    REQUIRE(static_cast<bool>(made));
    // Not through Catch's own comparison, which would print both.
    CHECK((made->bytes == bytes_of(log.file)));
    if (!log.profile.empty()) {
      CHECK((made->profile == bytes_of(log.profile)));
    }
  }
}

TEST_CASE("reports on demo logs say what is expected") {
  for (const DemoLog& log : listed()) {
    INFO(log.file);
    const auto outcome = examine_demo_log(log, kDatasets);
    REQUIRE(static_cast<bool>(outcome));
    CHECK(outcome->runs == log.runs);
    CHECK(outcome->log == log.log);
  }
}

TEST_CASE("healthy logs are expected to be healthy") {
  int healthy = 0;
  for (const DemoLog& log : listed()) {
    if (log.file.rfind("healthy/", 0) != 0) continue;
    ++healthy;
    for (const auto& run : log.runs) CHECK(run.empty());
    CHECK(log.log.empty());
  }
  CHECK(healthy >= 6);
}

TEST_CASE("every check has a demo log that it speaks up on") {
  const std::vector<DemoLog> logs = listed();
  for (const host::CheckCard& card : host::catalogue()) {
    const std::string slug(card.info->slug);
    INFO(slug);
    const auto log =
        std::find_if(logs.begin(), logs.end(), [&](const DemoLog& each) {
          return each.file.rfind("faults/" + slug + "/", 0) == 0;
        });
    REQUIRE(log != logs.end());
    const auto named = [&](const std::vector<std::string>& findings) {
      return std::any_of(findings.begin(), findings.end(),
                         [&](const std::string& finding) {
                           return finding.ends_with(" " + slug);
                         });
    };
    CHECK((named(log->log) ||
           std::any_of(log->runs.begin(), log->runs.end(), named)));
  }
}

TEST_CASE("every file below datasets is listed") {
  const std::vector<DemoLog> logs = listed();
  const std::string readme = bytes_of("README.md");
  namespace fs = std::filesystem;
  for (const auto& entry : fs::recursive_directory_iterator(kDatasets)) {
    const std::string file = fs::relative(entry.path(), kDatasets).string();
    const bool log = entry.is_regular_file() &&
                     (file.ends_with(".csv") || file.ends_with(".tsv"));
    if (!log || file.rfind("alarms/", 0) == 0) continue;
    INFO(file);
    CHECK(std::any_of(logs.begin(), logs.end(),
                      [&](const DemoLog& each) { return each.file == file; }));
    CHECK(readme.find(file) != readme.npos);
  }
  CHECK(readme.find(demo_table(logs)) != readme.npos);
}

}  // namespace
}  // namespace telltale::tool
