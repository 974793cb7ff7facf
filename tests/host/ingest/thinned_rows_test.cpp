// Reading one row of so many: for whoever wants an impression of a long log.
#include <fmt/format.h>

#include <set>
#include <string>
#include <vector>

#include "catch.hpp"
#include "ingest/log.hpp"
#include "temp_file.hpp"

namespace telltale::host {
namespace {

std::vector<Row> rows_of(const std::string& text, std::uint32_t of) {
  const test::TempFile file(text);
  const auto log = Log::open(file.path(), {});
  REQUIRE(log);
  auto reader = log->rows(kEveryChannel, of);
  REQUIRE(reader);
  std::vector<Row> rows;
  Row row;
  while (reader->next(row)) rows.push_back(row);
  return rows;
}

std::set<std::uint64_t> lines_of(const std::vector<Row>& rows) {
  std::set<std::uint64_t> lines;
  for (const Row& row : rows) lines.insert(row.line);
  return lines;
}

// The coolant is written in every tenth row only.
std::string wide_log(int rows) {
  std::string text = "time,rpm,coolant (degC)\n";
  for (int i = 0; i < rows; ++i) {
    text += fmt::format("{},{},{}\n", 1'780'300'800 + i, 1500 + i % 400,
                        i % 10 == 3 ? "82.5" : "");
  }
  return text;
}

TEST_CASE("thinned rows: about as many as asked for, and as they are") {
  const std::string text = wide_log(20'000);
  const std::vector<Row> all = rows_of(text, 1);
  const std::vector<Row> some = rows_of(text, 5);
  REQUIRE(all.size() == 20'000);
  CHECK(some.size() == Approx(4000).epsilon(0.05));
  for (const Row& row : some) {
    const Row& twin = all[row.line - 2];
    REQUIRE(twin.line == row.line);
    REQUIRE(twin.logged == row.logged);
    REQUIRE(twin.value[index_of(Channel::engine_speed)] ==
            row.value[index_of(Channel::engine_speed)]);
  }
  CHECK(lines_of(rows_of(text, 5)) == lines_of(some));
}

TEST_CASE("thinned rows: a column that is seldom filled is seen all the same") {
  for (const std::uint32_t of : {2U, 5U, 10U, 20U}) {
    INFO("one row of " << of);
    const std::vector<Row> some = rows_of(wide_log(20'000), of);
    std::size_t filled = 0;
    for (const Row& row : some) {
      filled += (row.present & bit(Channel::coolant_temperature)) != 0;
    }
    CHECK(filled ==
          Approx(static_cast<double>(some.size()) / 10.0).epsilon(0.2));
  }
}

TEST_CASE("thinned rows: a header on the way is never passed over") {
  std::string text = wide_log(2'000);
  text += "time,coolant (degC),rpm\n";
  for (int i = 0; i < 2'000; ++i) {
    text += fmt::format("{},80,1500\n", 1'780'400'800 + i);
  }
  for (const Row& row : rows_of(text, 7)) {
    if (row.line <= 2'002) continue;
    REQUIRE(row.value[index_of(Channel::engine_speed)] == 1500);
  }
}

TEST_CASE("thinned rows: sets that take turns are all read") {
  std::string text = "time,set,rpm\n";
  for (int i = 0; i < 1'000; ++i) {
    text += fmt::format("{},{},1500\n", 1'780'300'800 + i / 2,
                        i % 2 == 0 ? "port" : "starboard");
  }
  CHECK(rows_of(text, 4).size() == 1'000);
}

}  // namespace
}  // namespace telltale::host
