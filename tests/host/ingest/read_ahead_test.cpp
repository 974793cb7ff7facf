// Rows read on a thread of their own against the same rows read by turns.
#include "ingest/read_ahead.hpp"

#include <fmt/format.h>

#include <string>
#include <vector>

#include "catch.hpp"
#include "temp_file.hpp"

namespace telltale::host {
namespace {

// Two sets by turns, the second one and an alarm only from the middle on.
std::string log_of(int rows) {
  std::string text = "time,set,rpm,alarm\n";
  for (int i = 0; i < rows; ++i) {
    const bool late = i > rows / 2;
    text += fmt::format("{},{},{},{}\n", 1'780'300'800 + i,
                        late && i % 2 == 0 ? "starboard" : "port", 1500 + i % 7,
                        late ? "low oil pressure" : "");
  }
  return text;
}

struct Seen {
  std::vector<std::string> rows;
  std::vector<std::string> units;
  std::vector<std::string> alarms;
  std::uint64_t lines = 0;
};

Seen all_of(const std::string& path, Threads threads) {
  const auto log = Log::open(path, {});
  REQUIRE(log);
  auto reader = log->rows();
  REQUIRE(reader);
  ReadAhead ahead(std::move(*reader), threads);
  Seen seen;
  while (const Row* row = ahead.next()) {
    REQUIRE(row->unit < ahead.unit_names().size());
    seen.rows.push_back(fmt::format(
        "{} {} {} {}", row->line, row->at.ms, ahead.unit_names()[row->unit],
        row->value[index_of(Channel::engine_speed)]));
  }
  CHECK(ahead.next() == nullptr);
  seen.units = ahead.unit_names();
  seen.alarms = ahead.alarm_names();
  seen.lines = ahead.reader().tally().rows;
  return seen;
}

TEST_CASE("read ahead: the same rows and names as by turns") {
  // Within a block, a whole number of blocks, and some blocks and a rest.
  for (const int rows : {3, 1024, 2048, 5000}) {
    INFO(rows << " rows");
    const test::TempFile file(log_of(rows));
    const Seen by_turns = all_of(file.path(), Threads::one);
    const Seen beside = all_of(file.path(), Threads::more);
    CHECK(by_turns.rows.size() == static_cast<std::size_t>(rows));
    CHECK(by_turns.lines == static_cast<std::uint64_t>(rows));
    CHECK(beside.rows == by_turns.rows);
    CHECK(beside.units == by_turns.units);
    CHECK(beside.alarms == by_turns.alarms);
    CHECK(beside.lines == by_turns.lines);
  }
}

TEST_CASE("read ahead: may be left before the end") {
  const test::TempFile file(log_of(20'000));
  const auto log = Log::open(file.path(), {});
  REQUIRE(log);
  for (int i = 0; i < 20; ++i) {
    auto reader = log->rows();
    REQUIRE(reader);
    ReadAhead ahead(std::move(*reader), Threads::more);
    for (int k = 0; k < 700 * (i % 3); ++k) REQUIRE(ahead.next() != nullptr);
  }
}

}  // namespace
}  // namespace telltale::host
