// What docs/season.md says: its commands are run as they stand there, its
// tables are those of a store.
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <set>
#include <sstream>
#include <string>
#include <vector>

#include "catch.hpp"
#include "left_out.hpp"
#include "other_store.hpp"
#include "run_command.hpp"
#include "season/store.hpp"
#include "temp_folder.hpp"

namespace telltale::test {
namespace {

using host::Result;
using host::season::Access;
using host::season::OtherStore;
using host::season::Store;

/// The page from a heading on, to the next one of its rank.
std::string section(const std::string& heading) {
  std::ifstream file(TELLTALE_DOCS "/season.md");
  REQUIRE(file);
  std::stringstream all;
  all << file.rdbuf();
  const std::string text = all.str();
  const std::size_t from = text.find("\n## " + heading);
  REQUIRE(from != std::string::npos);
  return text.substr(from, text.find("\n## ", from + 4) - from);
}

/// The first commands in it.
std::string commands_of(const std::string& heading) {
  const std::string text = section(heading);
  const std::size_t from = text.find("```sh\n");
  REQUIRE(from != std::string::npos);
  return text.substr(from + 6, text.find("```", from + 6) - from - 6);
}

/// A folder with the program on the path and logs of two sets in logs/.
class Yard {
 public:
  Yard() {
    std::filesystem::create_directory(path() + "/bin");
    std::filesystem::create_symlink(TELLTALE_PROGRAM, path() + "/bin/telltale");
    std::filesystem::create_directory(path() + "/logs");
    for (int i = 0; i < 6; ++i) {
      const std::string n = std::to_string(i);
      REQUIRE(
          run("telltale simulate --preset split-8 --duration 20m --healthy "
              "--interval 2 --seed " +
              n + " --start 2026-05-0" + std::to_string(i + 1) +
              "T08:00:00 --unit-column 'Set " + std::to_string(i % 2) +
              "' --out logs/" + n + ".csv"));
    }
  }
  [[nodiscard]] const std::string& path() const { return folder_.path(); }

  /// Whether the command line does its work.
  [[nodiscard]] bool run(const std::string& line) const {
    std::ofstream(path() + "/line.sh") << "set -e\n" << line << "\n";
    return run_command("cd '" + path() +
                       "' && PATH=\"$PWD/bin:$PATH\" sh "
                       "line.sh")
        .has_value();
  }

 private:
  TempFolder folder_;
};

TEST_CASE("digests made side by side fill the store that the logs would") {
  if (!run_command("parallel --version")) {
    left_out("GNU parallel is not on this machine");
    return;
  }
  const Yard yard;
  REQUIRE(yard.run(commands_of("Thousands of logs")));
  REQUIRE(yard.run("telltale season add logs --store direct.db"));
  Result<Store> store = Store::open(yard.path() + "/fleet.db", Access::read);
  REQUIRE(store);
  const auto units = store->units();
  REQUIRE(units);
  CHECK(units->size() == 2);
  OtherStore other(*store, yard.path() + "/direct.db");
  // Keys go by the order of adding.
  CHECK(other.rows_apart("log", "sha256, file, row_count, first_ms") == 0);
  CHECK(other.rows_apart("run_list", "unit, start_ms, hours, verdict") == 0);
  CHECK(other.rows_apart("figure_list",
                         "unit, start_ms, figure, value, se, at, n") == 0);
  CHECK(other.rows_apart("channel", "channel, on_load, samples, mean, max") ==
        0);
  // Whoever adds the logs as well adds nothing.
  REQUIRE(yard.run("telltale season add logs --store fleet.db"));
  const auto again = store->units();
  CHECK((*again)[0].runs == (*units)[0].runs);
}

/// Words in back quotes.
std::vector<std::string> quoted(const std::string& text) {
  std::vector<std::string> out;
  for (std::size_t at = text.find('`'); at != std::string::npos;) {
    const std::size_t end = text.find('`', at + 1);
    if (end == std::string::npos) break;
    out.push_back(text.substr(at + 1, end - at - 1));
    at = text.find('`', end + 1);
  }
  return out;
}

std::set<std::string> names(Store& store, const std::string& sql) {
  std::set<std::string> out;
  auto rows = store.database().query(sql);
  REQUIRE(rows);
  while ((*rows)->next()) out.emplace((*rows)->text(0));
  return out;
}

TEST_CASE("the page names the store's tables and columns as they are") {
  TempFolder folder;
  Result<Store> store = Store::open(folder.path() + "/s.db", Access::write);
  REQUIRE(store);
  std::istringstream lines(section("The tables"));
  std::set<std::string> told;
  for (std::string line; std::getline(lines, line);) {
    if (line.rfind("| `", 0) != 0) continue;
    const std::size_t second = line.find('|', 1);
    const std::size_t third = line.find('|', second + 1);
    std::set<std::string> columns;
    for (const std::string& table : quoted(line.substr(0, second))) {
      told.insert(table);
      columns.merge(
          names(*store, "SELECT name FROM pragma_table_info('" + table + "')"));
      INFO(table);
      CHECK_FALSE(columns.empty());
    }
    for (const std::string& column : quoted(line.substr(third))) {
      INFO(line << "\n" << column);
      CHECK(columns.count(column) == 1);
    }
  }
  CHECK(told ==
        names(*store, "SELECT name FROM sqlite_master WHERE type = 'table'"));
  const std::set<std::string> views =
      names(*store, "SELECT name FROM sqlite_master WHERE type = 'view'");
  for (const std::string& view : views) {
    CHECK(section("The tables").find("`" + view + "`") != std::string::npos);
  }
}

TEST_CASE("the page's query answers") {
  if (!run_command("sqlite3 --version")) {
    left_out("the sqlite3 program is not on this machine");
    return;
  }
  const Yard yard;
  REQUIRE(yard.run("telltale season add logs --store fleet.db"));
  std::ofstream(yard.path() + "/query.sh") << commands_of("The tables");
  const auto answer = run_command("cd '" + yard.path() + "' && sh -e query.sh");
  REQUIRE(answer);
  CHECK(answer->find("Set 0|2026-05-0") != std::string::npos);
}

}  // namespace
}  // namespace telltale::test
