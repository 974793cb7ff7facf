#include "ingest/dialect.hpp"

#include <string>

#include "catch.hpp"
#include "ingest/header_place.hpp"
#include "ingest/sample.hpp"

namespace telltale::host {
namespace {

// A store keeps a sample's bytes alive no longer than the sample needs them.
Sample sample_of(const std::string& text) {
  return take_sample(*ByteStore::of_memory(text, "memory"),
                     guess_encoding(text));
}

std::string repeated(const std::string& header, const std::string& row,
                     int rows = 20) {
  std::string text = header + "\n";
  for (int i = 0; i < rows; ++i) text += row + "\n";
  return text;
}

TEST_CASE("cells are told apart by how they look") {
  CHECK(kind_of_cell("12.5", '.') == CellKind::number);
  CHECK(kind_of_cell("12,5", '.') == CellKind::text);
  CHECK(kind_of_cell("12,5", '\0') == CellKind::number);
  CHECK(kind_of_cell("41 psi", '.') == CellKind::number);
  CHECK(kind_of_cell("2026-06-01 08:00", '.') == CellKind::stamp);
  CHECK(kind_of_cell("125:03:07", '.') == CellKind::stamp);
  CHECK(kind_of_cell("---", '.') == CellKind::missing);
  CHECK(kind_of_cell("Running", '.') == CellKind::text);
}

TEST_CASE("the delimiter makes the most readable table") {
  const auto chosen = [](const std::string& text) {
    return choose_delimiter(sample_of(text));
  };
  CHECK(chosen(repeated("time,rpm,oil", "2026-06-01 08:00:00,1800,4.1")) ==
        ',');
  CHECK(chosen(repeated("time;rpm;oil", "2026-06-01 08:00:00;1800,5;4,1")) ==
        ';');
  CHECK(chosen(repeated("time\trpm\toil",
                        "2026-06-01 08:00:00\t1800,5\t4,1")) == '\t');
  CHECK(chosen(repeated("time|rpm|oil", "2026-06-01 08:00:00|1800|4.1")) ==
        '|');
  // Commas within texts do not fool it.
  CHECK(chosen(repeated("time;rpm;note", "2026-06-01 08:00;1800;a, b, c, d")) ==
        ';');
  CHECK(chosen("sep=|\n" + repeated("a,b|c,d", "1,2|3,4")) == '|');
  CHECK(chosen("no table at all\nnone\n") == '\0');
}

TEST_CASE("decimal marks and thousands are told apart") {
  const auto mark = [](const std::string& row) {
    const Sample sample = sample_of(repeated("a;b;c", row));
    return choose_decimal(cut_sample(sample, ';'), ';');
  };
  CHECK(mark("1,5;2,25;3").mark == ',');
  CHECK(mark("1.5;2.25;3").mark == '.');
  CHECK(mark("1.234,5;2;3").mark == ',');
  CHECK(mark("1,234.5;2;3").mark == '.');
  CHECK(mark("1.800;1.234,5;2").mark == ',');
  CHECK(mark("0,125;2;3").proven);
  CHECK_FALSE(mark("1,234;2;3").proven);
  CHECK_FALSE(mark("1;2;3").proven);
}

HeaderPlace place_in(const std::string& text) {
  const Sample sample = sample_of(text);
  return find_header(cut_sample(sample, ','), '.');
}

TEST_CASE("the header is where readings follow names") {
  const std::string log =
      repeated("time,rpm,oil", "2026-06-01 08:00:00,1800,4.1");
  CHECK(place_in(log).header == 0U);
  CHECK(place_in("A boat's log\n\n" + log).header == 1U);
  CHECK(place_in("Serial,4711\nRated kW,8\n" + log).header == 2U);
  CHECK(place_in("Parameter,Value\nSerial,4711\nMode,1\n" + log).header == 3U);
  // Readings above the first header.
  CHECK(place_in("2026-06-01 07:59:59,1800,4.1\n" + log).header == 1U);
  CHECK_FALSE(place_in(repeated("2026-06-01 08:00:00,1,2",
                                "2026-06-01 08:00:00,1800,4.1"))
                  .header);
}

TEST_CASE("rows of units and of groups belong to the header") {
  const std::string rows =
      repeated("", "2026-06-01 08:00:00,1800,4.1").substr(1);
  const HeaderPlace units = place_in("time,rpm,oil\n,1/min,bar\n" + rows);
  CHECK(units.header == 0U);
  CHECK(units.unit_row == 1U);
  const HeaderPlace stamps =
      place_in("time,rpm,oil\nyyyy-mm-dd hh:mm:ss,rpm,bar\n" + rows);
  CHECK(stamps.unit_row == 1U);
  const HeaderPlace groups =
      place_in(",Engine,Engine\ntime,speed,oil\n" + rows);
  CHECK(groups.header == 1U);
  CHECK(groups.group_row == 0U);
  CHECK_FALSE(place_in("time,rpm,oil\n" + rows).unit_row);
}

TEST_CASE("names of another number than the readings are told") {
  const HeaderPlace place =
      place_in(repeated("time,rpm,oil", "2026-06-01 08:00:00,1800,4,1"));
  CHECK_FALSE(place.header);
  CHECK(place.other_width == 3);
  CHECK(place.other_line == 1);
}

TEST_CASE("a sample reaches to the end of a long log and stays small") {
  std::string text = "time,rpm\n";
  for (int i = 0; i < 200000; ++i) text += std::to_string(i) + ",1800\n";
  const Sample sample = sample_of(text);
  CHECK_FALSE(sample.whole);
  CHECK(sample.records.size() <
        kHeadRecords + kStretches * kStretchRecords + kTailRecords);
  CHECK(sample.records.back().text == "199999,1800");
  CHECK(sample_of("a,b\n1,2\n").whole);
}

}  // namespace
}  // namespace telltale::host
