#include "ingest/columns_text.hpp"

#include <algorithm>
#include <string>

#include "catch.hpp"
#include "log_writer.hpp"
#include "read_log.hpp"

namespace telltale::host {
namespace {

std::size_t widest_line(const std::string& text) {
  std::size_t widest = 0;
  std::size_t width = 0;
  for (char c : text) {
    if (c == '\n') {
      widest = std::max(widest, width);
      width = 0;
    } else if ((static_cast<unsigned char>(c) & 0xC0U) != 0x80U) {
      ++width;
    }
  }
  return widest;
}

TEST_CASE("the table fits 80 columns and names every column once") {
  test::Dialect dialect;
  dialect.unknown_columns = true;
  dialect.names = test::NameStyle::german;
  dialect.delimiter = ';';
  dialect.decimal = ',';
  const auto read =
      test::read_log(test::write_log(test::made_up_rows(60), dialect));
  const std::string table =
      columns_table(read.layout, read.tally, {"a note of the reader"});
  INFO(table);
  CHECK(widest_line(table) <= 80);
  for (const ColumnUse& use : read.layout.columns) {
    CHECK(table.find(use.header.substr(0, 20)) != std::string::npos);
  }
  CHECK(table.find("semicolons") != std::string::npos);
  CHECK(table.find("decimal comma") != std::string::npos);
  CHECK(table.find("60 rows read from 61 lines") != std::string::npos);
  CHECK(table.find("Not used") != std::string::npos);
  CHECK(table.find("a note of the reader") != std::string::npos);
}

TEST_CASE("no control sequence of the log gets into the table") {
  LogLayout layout;
  layout.file = "a\x1B[2Jb.csv";
  layout.columns.push_back(
      {"rpm\x1B]0;x\x07", "", Channel::none, LogUnit::none, "why\x1B[31m"});
  layout.notes.emplace_back("note\x1B[31m");
  const std::string table = columns_table(layout, {});
  CHECK(std::none_of(table.begin(), table.end(), [](char c) {
    return static_cast<unsigned char>(c) < 0x20 && c != '\n';
  }));
}

TEST_CASE("long words do not widen the table") {
  LogLayout layout;
  layout.file = std::string(300, 'f');
  layout.time_format = std::string(120, 't');
  layout.columns.push_back({std::string(200, 'h'), "engine_speed",
                            Channel::engine_speed, LogUnit::rpm,
                            std::string(200, 'w')});
  CHECK(widest_line(columns_table(layout, {})) <= 80);
}

}  // namespace
}  // namespace telltale::host
