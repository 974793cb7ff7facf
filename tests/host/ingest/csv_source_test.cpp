#include "ingest/csv_source.hpp"

#include <fmt/format.h>

#include <random>
#include <string>
#include <vector>

#include "catch.hpp"
#include "run_command.hpp"
#include "temp_file.hpp"

namespace telltale::host {
namespace {

using Rows = std::vector<std::vector<std::string>>;

Rows rows_of(const std::string& text, char delimiter = ',') {
  const auto store = ByteStore::of_memory(text, "memory");
  CsvSource source(store->cursor(), {}, delimiter);
  Rows rows;
  Record record;
  std::vector<Cell> cells;
  while (source.next(record)) {
    cut_cells(record, delimiter, cells);
    unquote_cells(record, cells);
    rows.emplace_back(cells.begin(), cells.end());
  }
  return rows;
}

// RFC 4180 section 2, rule by rule.
TEST_CASE("RFC 4180: records end in CRLF, the last may not") {
  CHECK(rows_of("aaa,bbb\r\nzzz,yyy\r\n") ==
        Rows{{"aaa", "bbb"}, {"zzz", "yyy"}});
  CHECK(rows_of("aaa,bbb\r\nzzz,yyy") == Rows{{"aaa", "bbb"}, {"zzz", "yyy"}});
}

TEST_CASE("RFC 4180: quotes hold commas, quotes and line breaks") {
  CHECK(rows_of("\"aaa\",\"bbb\"\r\n") == Rows{{"aaa", "bbb"}});
  CHECK(rows_of("\"a,a\",b\r\n") == Rows{{"a,a", "b"}});
  CHECK(rows_of("\"a\"\"a\",b\r\n") == Rows{{"a\"a", "b"}});
  CHECK(rows_of("\"a\r\nb\",c\r\n") == Rows{{"a\r\nb", "c"}});
  CHECK(rows_of("\"\",b\n") == Rows{{"", "b"}});
  CHECK(rows_of("\"\"\"\",b\n") == Rows{{"\"", "b"}});
}

// Beyond the RFC: our own choices.
TEST_CASE("blanks around cells are dropped") {
  CHECK(rows_of(" a , b\t\n") == Rows{{"a", "b"}});
  CHECK(rows_of(" \"a\" ,\"b\"\n") == Rows{{"a", "b"}});
}

TEST_CASE("quotes that are no quoting are text") {
  CHECK(rows_of("5\" pipe,b\n") == Rows{{"5\" pipe", "b"}});
  CHECK(rows_of("a,12\",b\n") == Rows{{"a", "12\"", "b"}});
  CHECK(rows_of("\"a\"b,c\n") == Rows{{"\"a\"b", "c"}});
}

TEST_CASE("a quote that is never closed spoils its own line only") {
  std::string text = "\"open,1\n";
  for (int i = 0; i < 500; ++i) text += "a,1\n";
  const Rows rows = rows_of(text);
  REQUIRE(rows.size() == 501);
  CHECK(rows[1] == std::vector<std::string>{"a", "1"});
  CHECK(rows[500] == std::vector<std::string>{"a", "1"});
  CHECK(rows_of("a,b\n\"open") == Rows{{"a", "b"}, {"\"open"}});
}

TEST_CASE("line ends of every kind part lines") {
  for (const char* end : {"\n", "\r\n", "\r", "\r\r\r\n"}) {
    const std::string e = end;
    CHECK(rows_of("a,b" + e + "c,d" + e) == Rows{{"a", "b"}, {"c", "d"}});
    CHECK(rows_of("a,b" + e + "c,d") == Rows{{"a", "b"}, {"c", "d"}});
  }
}

TEST_CASE("records and their lines are counted") {
  const auto store = ByteStore::of_memory("h\n\n\"a\nb\nc\",2\nlast", "memory");
  CsvSource source(store->cursor(), {}, ',');
  Record record;
  std::vector<std::uint64_t> lines;
  std::vector<std::uint32_t> taken;
  while (source.next(record)) {
    lines.push_back(record.line);
    taken.push_back(record.lines);
  }
  CHECK(lines == std::vector<std::uint64_t>{1, 2, 3, 6});
  CHECK(taken == std::vector<std::uint32_t>{1, 1, 3, 1});
  CHECK(record.unterminated == false);
  CHECK(source.lines() == 6);
}

TEST_CASE("all but the first line of a record can be given back") {
  const auto store = ByteStore::of_memory("\"a\nb\nc\",1\nd,2\n", "memory");
  CsvSource source(store->cursor(), {}, ',');
  Record record;
  REQUIRE(source.next(record));
  CHECK(record.lines == 3);
  std::vector<Cell> cells;
  cut_cells(record, ',', cells);  // must not spoil what comes back
  source.keep_first_line_only(record);
  CHECK(record.text() == "\"a");
  CHECK(record.lines == 1);
  REQUIRE(source.next(record));
  CHECK(record.text() == "b");
  CHECK(record.line == 2);
  REQUIRE(source.next(record));
  CHECK(record.quoting == Quoting::irregular);
  REQUIRE(source.next(record));
  CHECK(record.text() == "d,2");
  CHECK(record.line == 4);
}

TEST_CASE("a line of megabytes is handed out cut and then skipped") {
  std::string text = "a,b\n";
  text += std::string(5 << 20, 'x');
  text += "\nc,d\n";
  const auto store = ByteStore::of_memory(text, "memory");
  CsvSource source(store->cursor(), {}, ',');
  std::size_t rest = 0;
  source.on_rest_of_long_line(
      [&](std::string_view piece) { rest += piece.size(); });
  Record record;
  REQUIRE(source.next(record));
  REQUIRE(source.next(record));
  CHECK(record.too_long);
  const std::size_t first = record.text().size();
  CHECK(first <= TextWindow::kMaxHeld + TextWindow::kStep);
  REQUIRE(source.next(record));
  CHECK(record.text() == "c,d");
  CHECK(record.line == 3);
  CHECK(first + rest == 5 << 20);
}

TEST_CASE("zero bytes are flagged") {
  const auto store =
      ByteStore::of_memory(std::string("a,b\nc\0,d\ne,f\n", 12), "memory");
  CsvSource source(store->cursor(), {}, ',');
  Record record;
  REQUIRE(source.next(record));
  CHECK_FALSE(record.has_nul);
  REQUIRE(source.next(record));
  CHECK(record.has_nul);
  REQUIRE(source.next(record));
  CHECK_FALSE(record.has_nul);
}

// Windows end anywhere: the same records whatever the bytes before them.
TEST_CASE("records do not depend on where reading stops") {
  std::string line = "2026-06-01,\"a \"\"b\"\"\r\nc\",12.5\r\n";
  const auto once = rows_of(line);
  REQUIRE(once.size() == 1);
  for (std::size_t shift = 0; shift < 40; ++shift) {
    std::string text(TextWindow::kStep - shift, 'x');
    text += '\n';
    text += line;
    const Rows rows = rows_of(text);
    REQUIRE(rows.size() == 2);
    CHECK(rows[1] == once[0]);
  }
}

// Python's csv module with newline='' is the outside reader.
TEST_CASE("random records read as Python reads them") {
  if (!test::run_command("python3 -c 'import csv'")) {
    WARN("no python3 here: not compared");
    return;
  }
  std::mt19937 random(17);
  std::string text;
  constexpr std::string_view kLetters = "ab1.-;|";
  for (int row = 0; row < 400; ++row) {
    const int cells = 2 + static_cast<int>(random() % 4);
    for (int c = 0; c < cells; ++c) {
      if (c > 0) text += ',';
      const bool quoted = random() % 3 == 0;
      std::string cell;
      for (std::size_t n = random() % 6; n > 0; --n) {
        cell += kLetters[random() % kLetters.size()];
        if (quoted && random() % 4 == 0) cell += random() % 2 == 0 ? "," : "\n";
        if (quoted && random() % 6 == 0) cell += "\"\"";
        if (quoted && random() % 6 == 0) cell += "\xC3\xB6";
      }
      text += quoted ? "\"x" + cell + "x\"" : "x" + cell;
    }
    text += random() % 2 == 0 ? "\r\n" : "\n";
  }
  const test::TempFile file(text);
  const auto python = test::run_command(
      "python3 -c \"import csv,sys\n"
      "for r in csv.reader(open('" +
      file.path() +
      "',newline='',encoding='utf-8')): "
      "sys.stdout.write(chr(31).join(r)+chr(30))\"");
  REQUIRE(python);
  std::string ours;
  for (const auto& row : rows_of(text)) {
    for (std::size_t i = 0; i < row.size(); ++i) {
      ours += (i == 0 ? "" : "\x1F") + row[i];
    }
    ours += '\x1E';
  }
  CHECK(ours == *python);
}

}  // namespace
}  // namespace telltale::host
