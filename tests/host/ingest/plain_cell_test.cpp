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

TEST_CASE("plain cells: a shape that was learnt reads cells like it") {
  const auto text_of = [](std::string cell) {
    cell.resize(8, ',');
    return eight_characters(cell.data(), cell.data(), cell.data() + 8);
  };
  PlainShape shape;
  double value = 0.0;
  CHECK(shape.read(text_of("60.14"), value) == 0);  // nothing learnt yet
  CHECK(shape.read(0, value) == 0);
  CHECK(shape.read(~std::uint64_t{0}, value) == 0);
  shape.learn(text_of("60.14"), 5, '.');
  CHECK(shape.read(text_of("59.98"), value) == 5);
  CHECK(value == 59.98);
  for (const char* other :
       {"9.98", "159.98", "59.9", "59,98", "5998", "59.98 ", "59.9a", "-9.98",
        "59:98", "5/.98", "59.9\x80", ""}) {
    INFO(other);
    CHECK(shape.read(text_of(other), value) == 0);
  }
  // One that differs is no new shape yet, two in a row are.
  shape.learn(text_of("9.98"), 4, '.');
  CHECK(shape.read(text_of("9.97"), value) == 0);
  CHECK(shape.read(text_of("60.00"), value) == 5);
  shape.learn(text_of("9.98"), 4, '.');
  shape.learn(text_of("9.97"), 4, '.');
  CHECK(shape.read(text_of("9.96"), value) == 4);

  PlainShape negative;
  negative.learn(text_of("-5.0"), 4, '.');
  CHECK(negative.read(text_of("-0.0"), value) == 4);
  CHECK(std::signbit(value));
  CHECK(negative.read(text_of("15.0"), value) == 0);
}

TEST_CASE("plain cells: shapes against the way without") {
  std::minstd_rand chance(11);
  const std::string letters = "012345678901234567890123456789.-, ";
  int read = 0;
  for (int column = 0; column < 4000; ++column) {
    PlainShape shape;
    std::string cell(8, ',');
    for (char& c : cell) c = letters[chance() % letters.size()];
    for (int row = 0; row < 60; ++row) {
      // The next cell: mostly other digits, now and then another shape.
      for (char& c : cell) {
        if (c >= '0' && c <= '9') c = static_cast<char>('0' + chance() % 10);
      }
      if (chance() % 8 == 0) {
        cell[chance() % 8] = letters[chance() % letters.size()];
      }
      const char* const begin = cell.data();
      const std::uint64_t text = eight_characters(begin, begin, begin + 8);
      double slow = 0.0;
      double fast = 0.0;
      const std::size_t length = read_plain_cell(text, ',', '.', slow);
      const std::size_t quick = shape.read(text, fast);
      INFO(cell);
      if (quick != 0) {
        ++read;
        REQUIRE(quick == length);
        REQUIRE(fast == slow);
        REQUIRE(std::signbit(fast) == std::signbit(slow));
      } else if (length != 0) {
        shape.learn(text, length, '.');
      }
    }
  }
  CHECK(read > 20'000);
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
