// Tall tables and groups of columns, end to end.
#include "ingest/table_shape.hpp"

#include <fmt/format.h>

#include <string>

#include "catch.hpp"
#include "read_log.hpp"

namespace telltale::host {
namespace {

using test::read_log;

std::string stamp(int second) {
  return fmt::format("2026-06-15 08:{:02}:{:02}", second / 60, second % 60);
}

TEST_CASE("one reading a row, sorted by name, is merged by time") {
  std::string text = "timestamp,parameter,value,unit\n";
  struct Reading {
    const char* name;
    double value;
    const char* unit;
    int step;
  };
  for (const Reading& r :
       {Reading{"RPM", 1800, "rpm", 1}, Reading{"Oil Pressure", 41, "psi", 2},
        Reading{"Coolant Temp", 180, "F", 5}}) {
    for (int s = 0; s < 60; s += r.step) {
      text += fmt::format("{},{},{},{}\n", stamp(s), r.name, r.value, r.unit);
    }
  }
  const auto read = read_log(text);
  REQUIRE(read.rows.size() == 60);
  CHECK(read.rows[0].present ==
        (bit(Channel::engine_speed) | bit(Channel::oil_pressure) |
         bit(Channel::coolant_temperature)));
  CHECK(read.rows[1].present == bit(Channel::engine_speed));
  CHECK(read.tally.accepted == 60 + 30 + 12);
  for (std::size_t i = 1; i < 60; ++i) {
    CHECK((read.rows[i].at - read.rows[i - 1].at).ms == 1000);
  }
}

TEST_CASE("readings of one moment make one row") {
  std::string text = "time;tag;value\n";
  for (int s = 0; s < 40; ++s) {
    text += fmt::format("{}.000;Engine Speed (rpm);1800\n", stamp(s));
    text += fmt::format("{}.030;Oil Press (bar);4.1\n", stamp(s));
    text += fmt::format("{}.060;Spare 7;1\n", stamp(s));
  }
  const auto read = read_log(text);
  REQUIRE(read.rows.size() == 40);
  CHECK(read.value(7, Channel::oil_pressure) == Approx(410));
  CHECK(read.value(7, Channel::engine_speed) == 1800.0);
  CHECK(read.tally.skipped == 41);
}

// Found by the fuzzer: it was written out of bounds.
TEST_CASE("a reading named as a set is no reading") {
  std::string text = "time;tag;value\n";
  for (int s = 0; s < 40; ++s) {
    text += fmt::format("{};Engine Speed (rpm);1800\n", stamp(s));
    text += fmt::format("{};Oil Press (bar);4.1\n", stamp(s));
    text += fmt::format("{};Set no;1\n", stamp(s));
  }
  const auto read = read_log(text);
  REQUIRE(read.rows.size() == 40);
  for (const Row& row : read.rows) {
    CHECK(row.present ==
          (bit(Channel::engine_speed) | bit(Channel::oil_pressure)));
    CHECK(row.blank == 0);
  }
  CHECK(read.tally.accepted == 80);
  CHECK(read.tally.skipped == 41);
}

TEST_CASE("a reading with another unit than usual is converted by its own") {
  std::string text = "time,name,value,unit\n";
  for (int s = 0; s < 20; ++s) {
    text += fmt::format("{},RPM,1800,rpm\n", stamp(s));
    text += s == 10 ? fmt::format("{},Oil Pressure,280,kPa\n", stamp(s))
                    : fmt::format("{},Oil Pressure,41,psi\n", stamp(s));
  }
  const auto read = read_log(text);
  CHECK(read.value(9, Channel::oil_pressure) == Approx(282.685049));
  CHECK(read.value(10, Channel::oil_pressure) == Approx(280));
}

TEST_CASE("groups with times of their own are merged, whatever their rates") {
  std::string text = "t1,rpm,t2,oil_kpa,t3,coolant_c\n";
  for (int i = 0; i < 60; ++i) {
    text += fmt::format("{},{},{},{},{},{}\n", i, 1800 + i, i * 10, 300 + i,
                        i * 60, 60 + i % 20);
  }
  text += "60,1860,,,,\n";
  const auto read = read_log(text);
  // Stamps 0..60, tens to 590, sixties to 3540.
  CHECK(read.rows.size() == 61 + 53 + 50);
  CHECK(read.rows[0].present ==
        (bit(Channel::engine_speed) | bit(Channel::oil_pressure) |
         bit(Channel::coolant_temperature)));
  CHECK(read.rows[60].logged.ms == 60000);
  CHECK(read.value(60, Channel::engine_speed) == 1860.0);
  CHECK(read.value(60, Channel::oil_pressure) == 306.0);
  CHECK(read.rows.back().logged.ms == 3540000);
  CHECK(read.tally.lines == 62);
  CHECK(read.tally.accepted == 61);
  for (std::size_t i = 1; i < read.rows.size(); ++i) {
    CHECK(read.rows[i].at >= read.rows[i - 1].at);
  }
}

TEST_CASE("a second clock in another zone leads no group") {
  std::string text = "UTC time,rpm,Local time,oil kPa\n";
  for (int s = 0; s < 30; ++s) {
    text += fmt::format(
        "2026-06-15 08:00:{:02},1800,2026-06-15 10:00:{:02},300"
        "\n",
        s, s);
  }
  const auto read = read_log(text);
  REQUIRE(read.rows.size() == 30);
  CHECK(read.rows[0].present ==
        (bit(Channel::engine_speed) | bit(Channel::oil_pressure)));
}

TEST_CASE("an event list is refused as one") {
  std::string text = "unit,code,time_on,time_off,text\n";
  for (int s = 0; s < 30; ++s) {
    text += fmt::format("7,{},{},{},low oil\n", 90 + s % 5, stamp(s * 10),
                        stamp(s * 10 + 5));
  }
  const Error error = test::open_error(text);
  CHECK(error.what.find("event list") != std::string::npos);
  CHECK(error.remedy.find("telltale alarms") != std::string::npos);
}

TEST_CASE("an event list may have dates and times of day in two columns") {
  std::string text = "Start date,Start time,End date,End time,Alarm\n";
  for (int s = 0; s < 30; ++s) {
    text += fmt::format("2026-06-15,{},2026-06-15,{},low oil\n",
                        stamp(s * 10).substr(11), stamp(s * 10 + 5).substr(11));
  }
  CHECK(test::open_error(text).what.find("event list") != std::string::npos);
}

// They were taken for a table of one reading a row: amps, and a priority each.
TEST_CASE("sets called A1 and A2 are no readings of amps") {
  std::string text = "unit,alarm,time on,time off,priority\n";
  for (int s = 0; s < 30; ++s) {
    text += fmt::format("A{},low oil,{},{},{}\n", 1 + s % 2, stamp(s * 10),
                        stamp(s * 10 + 5), 1 + s % 3);
  }
  CHECK(test::open_error(text).what.find("event list") != std::string::npos);
}

}  // namespace
}  // namespace telltale::host
