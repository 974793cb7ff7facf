// The quick way for short decimals against its slow twin, parse_number().
#include "ingest/plain_cell.hpp"

#include <cmath>
#include <random>
#include <string>

#include "catch.hpp"
#include "support/number.hpp"

namespace telltale::host {
namespace {

struct Read {
  std::size_t length = 0;
  double value = 0.0;
};

Read quick(const std::string& line, std::size_t at, char delimiter = ',',
           char decimal = '.') {
  Read out;
  const char* begin = line.data();
  out.length =
      read_plain_cell(eight_characters(begin, begin + at, begin + line.size()),
                      delimiter, decimal, out.value);
  return out;
}

TEST_CASE("plain cells: what a short decimal is") {
  CHECK(quick("1802,rest of the line", 0).length == 4);
  CHECK(quick("1802,rest of the line", 0).value == 1802.0);
  CHECK(quick("-60.14,rest of the line", 0).value == -60.14);
  CHECK(quick("0.1,rest of the line", 0).value == 0.1);
  CHECK(quick("0000012,rest of the line", 0).value == 12.0);
  CHECK(quick("3;9,5;rest", 2, ';', ',').value == 9.5);
  const Read zero = quick("-0.0,rest of the line", 0);
  CHECK(zero.length == 4);
  CHECK(std::signbit(zero.value));
}

TEST_CASE("plain cells: what is left to the slow twin") {
  for (const char* text :
       {",1,2,3,4,5,6", "-,1,2,3,4,5,6", ".5,1,2,3,4,5,6", "5.,1,2,3,4,5,6",
        "1e3,1,2,3,4,5", "+5,1,2,3,4,5,6", " 5,1,2,3,4,5,6", "5 ,1,2,3,4,5,6",
        "1.2.3,4,5,6", "--5,1,2,3,4", "12345678,1,2", "1/2,1,2,3", "1:2,1,2,3",
        "nan,1,2,3,4", "5\r,1,2,3,4,5"}) {
    INFO(text);
    CHECK(quick(text, 0).length == 0);
  }
}

TEST_CASE("plain cells: at the end of a line") {
  // The byte behind the last cell is the delimiter there, put by the caller.
  CHECK(quick("230.1,50.02,7,", 12).length == 1);
  CHECK(quick("230.1,50.02,7,", 12).value == 7.0);
  CHECK(quick("230.1,50.02,7,", 6).value == 50.02);
  CHECK(quick("7,", 0).length == 0);  // too short a line: slowly
}

TEST_CASE("plain cells: the same numbers as parse_number") {
  std::minstd_rand chance(7);
  const std::string letters = "0123456789012345678901234567890123456789.-,; e";
  int plain = 0;
  for (int i = 0; i < 400'000; ++i) {
    std::string line(12, ',');
    for (char& c : line) c = letters[chance() % letters.size()];
    line += ',';
    const std::size_t end = line.find(',');
    const auto slow = parse_number(line.substr(0, end));
    const Read read = quick(line, 0);
    if (read.length == 0) continue;
    ++plain;
    INFO(line);
    REQUIRE(read.length == end);
    REQUIRE(slow);
    REQUIRE(read.value == *slow);
  }
  CHECK(plain > 30'000);
}

}  // namespace
}  // namespace telltale::host
