// Files that others made to try CSV readers on, from Debian packages. Where a
// package is not installed, the case says so and is skipped. TELLTALE_CORPUS
// may name a folder that the packages are unpacked in.
#include <cstdlib>
#include <nlohmann/json.hpp>
#include <optional>
#include <string>
#include <vector>

#include "catch.hpp"
#include "ingest/csv_source.hpp"
#include "ingest/gzip_cursor.hpp"
#include "temp_file.hpp"

namespace telltale::host {
namespace {

using Rows = std::vector<std::vector<std::string>>;

std::string root() {
  const char* folder = std::getenv("TELLTALE_CORPUS");
  return folder != nullptr ? folder : "";
}

std::optional<Rows> rows_of(const std::string& path, char delimiter = ',') {
  const auto store = ByteStore::open(root() + path);
  if (!store) {
    WARN("skipped, not installed: " << path);
    return std::nullopt;
  }
  std::string head(65536, '\0');
  head.resize((*store)->cursor()->read(head.data(), head.size()));
  CsvSource source((*store)->cursor(), guess_encoding(head), delimiter);
  Rows rows;
  Record record;
  std::vector<Cell> cells;
  while (source.next(record)) {
    cut_cells(record, delimiter, cells);
    unquote_cells(record, cells);
    if (cells.size() == 1 && cells[0].empty()) continue;
    rows.emplace_back(cells.begin(), cells.end());
  }
  return rows;
}

// Debian node-csv-spectrum 1.0.0: each CSV with the JSON it means. A CRLF
// within a quoted cell is kept, as the JSON has it.
TEST_CASE("the csv-spectrum files mean what their JSON says") {
  const std::string folder = "/usr/share/nodejs/csv-spectrum/";
  for (const char* name :
       {"comma_in_quotes", "empty", "empty_crlf", "escaped_quotes", "json",
        "newlines", "newlines_crlf", "quotes_and_newlines", "simple",
        "simple_crlf", "utf8"}) {
    INFO(name);
    const auto rows = rows_of(folder + "csvs/" + name + ".csv");
    if (!rows) return;
    const auto expected = nlohmann::json::parse(
        test::slurp(root() + folder + "json/" + name + ".json"));
    REQUIRE(rows->size() == expected.size() + 1);
    for (std::size_t r = 0; r < expected.size(); ++r) {
      const auto& header = rows->front();
      const auto& row = (*rows)[r + 1];
      REQUIRE(row.size() == header.size());
      REQUIRE(expected[r].size() == header.size());
      for (std::size_t c = 0; c < header.size(); ++c) {
        CHECK(expected[r].at(header[c]).get<std::string>() == row[c]);
      }
    }
  }
}

// Debian r-cran-data.table 1.14.8; rows and columns by its own reader.
TEST_CASE("data.table's awkward files have the rows its reader finds") {
  struct Case {
    const char* file;
    std::size_t rows;  // the header not counted
    std::size_t columns;
  };
  for (const Case& c :
       {Case{"issue_1087_utf8_bom.csv", 1, 3}, Case{"russellCRLF.csv", 19, 4},
        Case{"russellCRCRLF.csv", 19, 4},
        Case{"doublequote_newline.csv", 36, 2}}) {
    INFO(c.file);
    const auto rows = rows_of(
        std::string("/usr/lib/R/site-library/data.table/tests/") + c.file);
    if (!rows) return;
    CHECK(rows->size() == c.rows + 1);
    CHECK(rows->front().size() == c.columns);
  }
}

// The same package: a line of text, 2093 rows of ten cells, a line of text.
TEST_CASE("data.table's file of stray quotes has its rows") {
  const auto rows =
      rows_of("/usr/lib/R/site-library/data.table/tests/noquote.csv.gz");
  if (!rows) return;
  REQUIRE(rows->size() == 2095);
  for (std::size_t i = 1; i + 1 < rows->size(); ++i) {
    CHECK((*rows)[i].size() == 10);
  }
}

// Debian librust-csv-dev 1.1.6.
TEST_CASE("files of a CSV library's examples are read") {
  const std::string folder =
      "/usr/share/cargo/registry/csv-1.1.6/examples/data/";
  const auto latin1 = rows_of(folder + "uspop-latin1.csv");
  if (!latin1) return;
  const auto utf8 = rows_of(folder + "uspop.csv");
  REQUIRE(utf8);
  CHECK(latin1->size() == utf8->size());
  for (const auto& row : *latin1) CHECK(row.size() == 5);
}

}  // namespace
}  // namespace telltale::host
