#include "ingest/line_buffer.hpp"

#include <random>
#include <string>
#include <vector>

#include "catch.hpp"
#include "log_writer.hpp"

namespace telltale::host {
namespace {

TEST_CASE("a record comes out as soon as it is whole") {
  LineBuffer lines({}, ',');
  Record record;
  lines.feed("a,b");
  CHECK_FALSE(lines.next(record));
  lines.feed("\nc,\"d");
  REQUIRE(lines.next(record));
  CHECK(record.text() == "a,b");
  CHECK_FALSE(lines.next(record));
  lines.feed("\ne\"\n");
  REQUIRE(lines.next(record));
  CHECK(record.text() == "c,\"d\ne\"");
  CHECK(record.lines == 2);
  lines.feed("last");
  CHECK_FALSE(lines.next(record));
  lines.close();
  REQUIRE(lines.next(record));
  CHECK(record.text() == "last");
  CHECK(record.unterminated);
  CHECK_FALSE(lines.next(record));
}

TEST_CASE("a CR waits for what follows it") {
  LineBuffer lines({}, ',');
  Record record;
  lines.feed("a,b\r");
  CHECK_FALSE(lines.next(record));
  lines.feed("\nc,d\r");
  REQUIRE(lines.next(record));
  CHECK(record.text() == "a,b\r");  // cut_cells() drops it
  lines.feed("e");
  REQUIRE(lines.next(record));
  CHECK(record.text() == "c,d");
}

// CsvSource is the twin.
TEST_CASE("pushed in any pieces, records are those that are pulled") {
  std::mt19937 random(31);
  constexpr std::string_view kLetters = "ab,\"\n\r;1\xC3\xB6";
  for (int round = 0; round < 3000; ++round) {
    std::string text;
    for (std::size_t n = 1 + random() % 60; n > 0; --n) {
      text += kLetters[random() % kLetters.size()];
    }
    const auto store = ByteStore::of_memory(text, "memory");
    CsvSource pulled(store->cursor(), {}, ',');
    LineBuffer pushed({}, ',');
    for (std::size_t at = 0; at < text.size();) {
      const std::size_t step = 1 + random() % 9;
      pushed.feed(std::string_view(text).substr(at, step));
      at += step;
    }
    pushed.close();
    Record a;
    Record b;
    INFO("\"" << text << "\"");
    while (pulled.next(a)) {
      REQUIRE(pushed.next(b));
      REQUIRE(a.text() == b.text());
      REQUIRE(a.lines == b.lines);
      REQUIRE(a.line == b.line);
      REQUIRE(a.quoting == b.quoting);
      REQUIRE(a.unterminated == b.unterminated);
    }
    REQUIRE_FALSE(pushed.next(b));
  }
}

}  // namespace
}  // namespace telltale::host
