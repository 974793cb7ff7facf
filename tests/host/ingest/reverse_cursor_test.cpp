#include "ingest/reverse_cursor.hpp"

#include <fmt/format.h>

#include <random>
#include <string>
#include <vector>

#include "catch.hpp"
#include "read_log.hpp"

namespace telltale::host {
namespace {

std::string reversed(const std::string& text, std::uint64_t head,
                     std::size_t step) {
  ReverseCursor cursor(ByteStore::of_memory(text, "memory"), head);
  std::string out;
  std::string block(step, '\0');
  for (;;) {
    const std::size_t got = cursor.read(block.data(), step);
    out.append(block, 0, got);
    if (got < step) return out;
  }
}

TEST_CASE("lines come from the last to the first behind the head") {
  CHECK(reversed("head\na\nb\nc\n", 5, 3) == "head\nc\nb\na\n");
  CHECK(reversed("head\na\nb\nc", 5, 100) == "head\nc\nb\na\n");
  CHECK(reversed("a\n\nb\n", 0, 1) == "b\n\na\n");
  CHECK(reversed("", 0, 10).empty());
  CHECK(reversed("head\n", 5, 10) == "head\n");
  CHECK(reversed("one", 0, 10) == "one\n");
}

TEST_CASE("lines longer than a block and many lines come whole") {
  std::mt19937 random(41);
  std::vector<std::string> lines;
  std::string text = "h\n";
  for (int i = 0; i < 3000; ++i) {
    lines.push_back(std::to_string(i) +
                    std::string(i == 1500 ? 400000 : random() % 300, 'x'));
    text += lines.back() + "\n";
  }
  std::string expected = "h\n";
  for (auto it = lines.rbegin(); it != lines.rend(); ++it) {
    expected += *it + "\n";
  }
  const bool equal = reversed(text, 2, 70000) == expected;
  CHECK(equal);
  CHECK(count_lines(*ByteStore::of_memory(text, "memory")) == 3001);
  CHECK(count_lines(*ByteStore::of_memory(text + "more", "memory")) == 3002);
  CHECK(bytes_of_lines(*ByteStore::of_memory(text, "memory"), 1) == 2);
}

TEST_CASE("a log with its newest row first is read oldest first") {
  std::string text = "A title\ntime,rpm,oil\n,1/min,kPa\n";
  for (int i = 5000; i > 0; --i) {
    text += fmt::format("2026-06-15 {:02}:{:02}:{:02},{},300\n", i / 3600,
                        i / 60 % 60, i % 60, 1000 + i);
    if (i == 2500) text += "oops\n";
  }
  const auto read = test::read_log(text);
  REQUIRE(read.rows.size() == 5000);
  CHECK(read.noted("newest row comes first"));
  CHECK(read.layout.interval_s == 1.0);
  for (std::size_t i = 0; i < 5000; ++i) {
    REQUIRE(read.value(i, Channel::engine_speed) ==
            1001.0 + static_cast<double>(i));
    REQUIRE(read.rows[i].at == read.rows[i].logged);
  }
  // Lines keep their numbers in the file: 3 above the rows, the oldest last.
  CHECK(read.rows.front().line == 5004);
  CHECK(read.rows.back().line == 4);
  CHECK(read.tally.lines == 5004);
  CHECK(read.tally.rejected == 1);
  CHECK(read.tally.by_fate[static_cast<std::size_t>(LineFate::wrong_count)]
            .first_line == 4 + 2501);
}

TEST_CASE("newest first in UTF-16 is refused with a remedy") {
  std::string text = "time,rpm\n";
  for (int i = 59; i > 0; --i) {
    text += fmt::format("2026-06-15 08:00:{:02},1800\n", i);
  }
  std::string wide = "\xFF\xFE";
  for (char c : text) {
    wide += c;
    wide += '\0';
  }
  const Error error = test::open_error(wide);
  CHECK(error.what.find("newest row") != std::string::npos);
  CHECK(error.remedy.find("sort") != std::string::npos);
}

}  // namespace
}  // namespace telltale::host
