#include "ingest/slow_columns.hpp"

#include <fmt/format.h>

#include <string>

#include "catch.hpp"
#include "read_log.hpp"

namespace telltale::host {
namespace {

using test::read_log;

// A log of `count` rows; `coolant(i)` is row i's cell.
std::string log_of(int count, auto&& coolant) {
  std::string text = "time,rpm,Coolant (C)\n";
  for (int i = 0; i < count; ++i) {
    text += fmt::format("{},1800,{}\n", 1780000000 + i, coolant(i));
  }
  return text;
}

bool is_blank(const Row& row) {
  return (row.blank & bit(Channel::coolant_temperature)) != 0;
}

std::size_t blanks(const test::ReadLog& read) {
  std::size_t count = 0;
  for (const Row& row : read.rows) count += is_blank(row);
  return count;
}

TEST_CASE("a channel logged every tenth row is slow, not missing") {
  for (const char* empty : {"", "NaN", "null"}) {
    const auto read = read_log(log_of(300, [&](int i) {
      return i % 10 == 3 ? std::string("81.5") : std::string(empty);
    }));
    CHECK(read.column(2).why.find("a reading every 10 rows") !=
          std::string::npos);
    CHECK(blanks(read) == 0);
    CHECK(read.value(3, Channel::coolant_temperature) == 81.5);
  }
}

TEST_CASE("a reading that a slow channel owes is missing") {
  const auto read = read_log(log_of(300, [](int i) {
    const bool lost = i > 100 && i < 160;
    return i % 10 == 0 && !lost ? "81.5" : "";
  }));
  CHECK_FALSE(is_blank(read.rows[99]));
  // The last reading is row 100's; the next was due on row 110.
  CHECK_FALSE(is_blank(read.rows[112]));
  CHECK(is_blank(read.rows[120]));
  CHECK(is_blank(read.rows[159]));
  CHECK_FALSE(is_blank(read.rows[161]));
}

TEST_CASE("a sensor's error is missing in a slow column too") {
  const auto read = read_log(log_of(300, [](int i) {
    if (i == 150) return "OPEN";
    return i % 10 == 0 ? "81.5" : "";
  }));
  CHECK(is_blank(read.rows[150]));
  CHECK(blanks(read) < 10);
}

TEST_CASE("blanks without a rhythm stay missing") {
  const auto random = read_log(log_of(400, [](int i) {
    // Numerical Recipes' quick generator: any will do.
    const auto state = static_cast<unsigned>(i) * 1664525U + 1013904223U;
    return (state >> 13) % 3 == 0 ? "81.5" : "";
  }));
  CHECK(random.column(2).why.find("every") == std::string::npos);
  CHECK(blanks(random) > 200);
  // Blank while the set rests: readings come row by row else.
  const auto rest =
      read_log(log_of(300, [](int i) { return i / 50 % 2 == 0 ? "" : "81"; }));
  CHECK(blanks(rest) == 150);
}

}  // namespace
}  // namespace telltale::host
