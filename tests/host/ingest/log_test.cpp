#include "ingest/log.hpp"

#include <string>
#include <vector>

#include "catch.hpp"
#include "temp_file.hpp"

namespace telltale::host {
namespace {

using test::TempFile;

struct Read {
  LogLayout layout;
  std::vector<Row> rows;
  RowTally tally;
  std::vector<std::string> notes;
};

Read read_text(std::string_view text, const ReadOptions& options = {}) {
  const TempFile file(text);
  auto log = Log::open(file.path(), options);
  INFO(std::string(text.substr(0, 300)));
  if (!log) FAIL(log.error().line());
  auto reader = log->rows();
  REQUIRE(reader);
  Read read;
  read.layout = log->layout();
  Row row;
  while (reader->next(row)) read.rows.push_back(row);
  read.tally = reader->tally();
  read.notes = reader->notes();
  return read;
}

const ColumnUse& column(const Read& read, std::size_t index) {
  return read.layout.columns.at(index);
}

double value(const Row& row, Channel channel) {
  return row.value[index_of(channel)];
}

TEST_CASE("a plain log in US units is read in canonical units") {
  const Read read = read_text(
      "Time,RPM,Oil Press (psi),Coolant [\xC2\xB0"
      "F],Batt V\n"
      "2026-06-01T08:00:00Z,3600,41,180,13.9\n"
      "2026-06-01T08:00:01Z,3602,40,181,13.9\n"
      "2026-06-01T08:00:02Z,3601,---,181,\n");
  REQUIRE(read.rows.size() == 3);
  CHECK(column(read, 2).name == "oil_pressure");
  CHECK(column(read, 2).unit == LogUnit::psi);
  CHECK(column(read, 3).channel == Channel::coolant_temperature);
  CHECK(read.layout.zone_known);
  CHECK(read.layout.interval_s == 1.0);
  // 41 psi: 41 * 6.89475729316836 (NIST SP 811 B.8).
  CHECK(value(read.rows[0], Channel::oil_pressure) == Approx(282.685049));
  CHECK(value(read.rows[0], Channel::coolant_temperature) ==
        Approx(82.2222222));
  CHECK(format_time(read.rows[1].logged, read.layout) ==
        "2026-06-01T08:00:01Z");
  // Blanks stay missing; they never become 0.
  CHECK(read.rows[2].blank ==
        (bit(Channel::oil_pressure) | bit(Channel::battery_voltage)));
  CHECK(read.rows[2].present ==
        (bit(Channel::engine_speed) | bit(Channel::coolant_temperature)));
  CHECK(read.tally.accepted == 3);
  CHECK(read.tally.skipped == 1);
  CHECK(read.tally.lines == 4);
}

TEST_CASE("a German log with decimal commas and elapsed time is read") {
  const Read read = read_text(
      "Zeit;Drehzahl;Öldruck (bar);Kühlwassertemperatur\r\n"
      "0;1500;4,1;82,5\r\n"
      "0,5;1501;4,0;82,5\r\n"
      "1;1500;4,05;82,6\r\n");
  REQUIRE(read.rows.size() == 3);
  CHECK(read.layout.delimiter == ';');
  CHECK(read.layout.decimal == ',');
  CHECK(read.layout.elapsed);
  CHECK(value(read.rows[0], Channel::oil_pressure) == 4.1 * 100.0);
  CHECK(value(read.rows[2], Channel::coolant_temperature) == 82.6);
  CHECK(format_time(read.rows[1].logged, read.layout) == "t+0.5");
}

TEST_CASE("epoch stamps and tabs are read") {
  const Read read = read_text(
      "timestamp\tfreq_hz\tkW\n1780300800\t60.1\t4.2\n1780300801\t60.0\t4.3\n");
  REQUIRE(read.rows.size() == 2);
  CHECK(format_time(read.rows[0].logged, read.layout) ==
        "2026-06-01T08:00:00Z");
  CHECK(value(read.rows[1], Channel::power) == 4.3);
}

TEST_CASE("a row that can't be read is counted and does not stop the rest") {
  const Read read = read_text(
      "time,rpm,oil_kpa\n"
      "2026-06-01 08:00:00,1500,300\n"
      "2026-06-01 08:00:01,1500\n"
      "\n"
      "not a time,1500,300\n"
      "time,rpm,oil_kpa\n"
      "2026-06-01 08:00:02,1500,300\n"
      "2026-06-01 08:0");
  CHECK(read.rows.size() == 2);
  CHECK(read.tally.accepted == 2);
  CHECK(read.tally.rejected == 3);
  CHECK(read.tally.skipped == 3);
  CHECK(read.tally.lines == 8);
}

// SAE J1939-71: 4 kPa a bit, 0xFF "not available", 0xFE "error".
TEST_CASE("a leaked bus code is missing, an ordinary 255 kPa is not") {
  const Read read = read_text(
      "time,oil pressure kPa,coolant C\n"
      "2026-06-01 08:00:00,300,80\n"
      "2026-06-01 08:00:01,255,80\n"
      "2026-06-01 08:00:02,1020,215\n"
      "2026-06-01 08:00:03,300,81\n");
  REQUIRE(read.rows.size() == 4);
  CHECK(value(read.rows[1], Channel::oil_pressure) == 255.0);
  CHECK(read.rows[2].present == 0);
  CHECK(read.rows[2].blank ==
        (bit(Channel::oil_pressure) | bit(Channel::coolant_temperature)));
}

}  // namespace
}  // namespace telltale::host
