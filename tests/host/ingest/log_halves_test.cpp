// Reading a log's halves apart from each other.
#include <fmt/format.h>

#include <optional>
#include <string>
#include <vector>

#include "catch.hpp"
#include "ingest/byte_store.hpp"
#include "ingest/log.hpp"

namespace telltale::host {
namespace {

std::string wide_log(int rows, const std::string& head = "time,rpm,hz\n") {
  std::string text = head;
  for (int i = 0; i < rows; ++i) {
    text += fmt::format("2026-05-0{} {:02}:{:02}:{:02},{},50.{:02}\n",
                        1 + i / 80'000, i / 3600 % 24, i / 60 % 60, i % 60,
                        1500 + i % 7, i % 100);
  }
  return text;
}

Log opened(const std::string& text, const ReadOptions& options = {}) {
  auto log = Log::open(ByteStore::of_memory(text, "made.csv"), options);
  REQUIRE(log);
  return std::move(*log);
}

std::vector<Row> rows_of(const Log& log, Stretch stretch) {
  auto reader = log.rows(kEveryChannel, 1, stretch);
  REQUIRE(reader);
  std::vector<Row> rows;
  Row row;
  while (reader->next(row)) rows.push_back(row);
  return rows;
}

TEST_CASE("halves of a log hold its rows, each of them once") {
  for (const std::string mark : {"", "\xEF\xBB\xBF"}) {
    const std::string text = wide_log(5000, mark + "time,rpm,hz\n");
    const Log log = opened(text);
    const auto middle = log.middle();
    REQUIRE(middle);
    CHECK(text[*middle - 1] == '\n');
    CHECK(static_cast<double>(*middle) ==
          Approx(static_cast<double>(text.size()) / 2).epsilon(0.01));
    const std::vector<Row> all = rows_of(log, {});
    std::vector<Row> halves = rows_of(log, {0, *middle});
    CHECK(halves.size() == Approx(2500).epsilon(0.02));
    for (const Row& row : rows_of(log, {*middle, Stretch::kEnd})) {
      halves.push_back(row);
    }
    REQUIRE(halves.size() == all.size());
    for (std::size_t i = 0; i < all.size(); ++i) {
      REQUIRE(halves[i].logged == all[i].logged);
      REQUIRE(halves[i].present == all[i].present);
      REQUIRE(halves[i].value[index_of(Channel::engine_speed)] ==
              all[i].value[index_of(Channel::engine_speed)]);
      REQUIRE(halves[i].value[index_of(Channel::frequency)] ==
              all[i].value[index_of(Channel::frequency)]);
    }
  }
}

TEST_CASE("a log whose rows need each other has no middle") {
  SECTION("a clock without date: days are counted") {
    std::string text = "time,rpm,hz\n";
    for (int i = 0; i < 5000; ++i) {
      text +=
          fmt::format("{:02}:{:02}:00,1500,50.0\n", (8 + i / 60) % 24, i % 60);
    }
    CHECK_FALSE(opened(text).middle());
  }
  SECTION("several sets: they are numbered as they come") {
    std::string text = "time,set,rpm,hz\n";
    for (int i = 0; i < 5000; ++i) {
      text += fmt::format("{},{},1500,50.0\n", 1'780'300'800 + i,
                          i % 2 == 0 ? "port" : "starboard");
    }
    CHECK_FALSE(opened(text).middle());
  }
  SECTION("the newest row comes first") {
    std::string text = "time,rpm,hz\n";
    for (int i = 5000; i > 0; --i) {
      text += fmt::format("2026-05-01 {:02}:{:02}:{:02},1500,50.0\n", i / 3600,
                          i / 60 % 60, i % 60);
    }
    CHECK_FALSE(opened(text).middle());
  }
  SECTION("a quotation mark is near: a line end may be none") {
    std::string text = wide_log(5000);
    text[text.find('\n', text.size() / 2) + 1 + 25] = '"';
    CHECK_FALSE(opened(text).middle());
  }
  SECTION("lines are longer than anybody looks") {
    CHECK_FALSE(opened("time,rpm,hz,note\n"
                       "1780300800,1500,50.0,a\n1780300801,1500,50.0," +
                       std::string(100'000, 'x') + "\n")
                    .middle());
  }
}

TEST_CASE("a hundred sets in one log are told apart") {
  std::string text = "time,set,rpm,hz\n";
  for (int i = 0; i < 2000; ++i) {
    text += fmt::format("{},G{},1500,50.0\n", 1'780'300'800 + i / 100, i % 100);
  }
  auto reader = opened(text).rows();
  REQUIRE(reader);
  Row row;
  while (reader->next(row)) continue;
  CHECK(reader->unit_names().size() == 100);
}

TEST_CASE("another header in the first half is told") {
  std::string text = wide_log(2000);
  text += "time,hz,rpm\n";
  for (int i = 0; i < 4000; ++i) {
    text += fmt::format("2026-05-02 {:02}:{:02}:00,50.0,1500\n", i / 60 % 24,
                        i % 60);
  }
  const Log log = opened(text);
  const auto middle = log.middle();
  REQUIRE(middle);
  auto reader = log.rows(kEveryChannel, 1, {0, *middle});
  REQUIRE(reader);
  Row row;
  while (reader->next(row)) continue;
  CHECK_FALSE(reader->notes().empty());
}

}  // namespace
}  // namespace telltale::host
