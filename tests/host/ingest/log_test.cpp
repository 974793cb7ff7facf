#include "ingest/log.hpp"

#include <fmt/format.h>

#include <cmath>
#include <string>
#include <vector>

#include "catch.hpp"
#include "log_writer.hpp"
#include "read_log.hpp"
#include "run_command.hpp"
#include "temp_file.hpp"

namespace telltale::host {
namespace {

using test::open_error;
using test::read_log;
using test::TempFile;

std::string stamp(int second) {
  return fmt::format("2026-06-15 08:{:02}:{:02}", second / 60, second % 60);
}

TEST_CASE("a plain log in US units is read in canonical units") {
  const auto read = read_log(
      "Time,RPM,Oil Press (psi),Coolant [\xC2\xB0"
      "F],Batt V\n"
      "2026-06-01T08:00:00Z,3600,41,180,13.9\n"
      "2026-06-01T08:00:01Z,3602,40,181,13.9\n"
      "2026-06-01T08:00:02Z,3601,---,181,\n");
  REQUIRE(read.rows.size() == 3);
  CHECK(read.column(2).name == "oil_pressure");
  CHECK(read.column(2).unit == LogUnit::psi);
  CHECK(read.column(3).channel == Channel::coolant_temperature);
  CHECK(read.layout.zone_known);
  CHECK(read.layout.interval_s == 1.0);
  // 41 psi: 41 * 6.89475729316836 (NIST SP 811 B.8).
  CHECK(read.value(0, Channel::oil_pressure) == Approx(282.685049));
  CHECK(read.value(0, Channel::coolant_temperature) == Approx(82.2222222));
  CHECK(format_time(read.rows[1].logged, read.layout) ==
        "2026-06-01T08:00:01Z");
  // Blanks stay missing; they never become 0.
  CHECK(read.rows[2].blank ==
        (bit(Channel::oil_pressure) | bit(Channel::battery_voltage)));
  CHECK(read.rows[2].present ==
        (bit(Channel::engine_speed) | bit(Channel::coolant_temperature)));
  CHECK(std::isnan(read.value(2, Channel::oil_pressure)));
}

TEST_CASE("a German log with decimal commas and elapsed time is read") {
  const auto read = read_log(
      "Zeit;Drehzahl;\xC3\x96ldruck (bar);K\xC3\xBChlwassertemperatur\r\n"
      "0;1500;4,1;82,5\r\n0,5;1501;4,0;82,5\r\n1;1500;4,05;82,6\r\n");
  REQUIRE(read.rows.size() == 3);
  CHECK(read.layout.delimiter == ';');
  CHECK(read.layout.decimal == ',');
  CHECK(read.layout.elapsed);
  CHECK(read.value(0, Channel::oil_pressure) == 4.1 * 100.0);
  CHECK(format_time(read.rows[1].logged, read.layout) == "t+0.5");
}

TEST_CASE("lines that give no row are counted, located and do not stop it") {
  const auto read = read_log(
      "time,rpm,oil_kpa\n"
      "2026-06-01 08:00:00,1500,300\n"
      "2026-06-01 08:00:01,1500\n"
      "\n"
      "not a time,1500,300\n"
      "time,rpm,oil_kpa\n"
      "2026-06-01 08:00:02,1500,300\n"
      "2026-06-01 08:00:02,1500,300\n"
      "# end of shift\n"
      "\"2026-06-01 08:00:03,1500,300\n"
      "2026-06-01 08:0");
  CHECK(read.rows.size() == 2);
  CHECK(read.tally.accepted == 2);
  CHECK(read.tally.rejected == 4);
  CHECK(read.tally.skipped == 5);
  CHECK(read.tally.lines == 11);
  const auto count = [&](LineFate fate) {
    return read.tally.by_fate[static_cast<std::size_t>(fate)];
  };
  CHECK(count(LineFate::wrong_count).first_line == 3);
  CHECK(count(LineFate::bad_time).first_line == 5);
  CHECK(count(LineFate::unclosed_quote).first_line == 10);
  CHECK(count(LineFate::cut_off).first_line == 11);
  CHECK(count(LineFate::duplicate).count == 1);
  CHECK(count(LineFate::comment).count == 1);
}

TEST_CASE("rejected lines are kept byte for byte, with line and reason") {
  const TempFile rejects("");
  ReadOptions options;
  options.rejects_path = rejects.path();
  std::string text = "time;rpm;note\n";
  for (int s = 0; s < 30; ++s) text += stamp(s) + ";1500;ok\n";
  text += "2026-06-15 08:00:40;1500;caf\xE9;\xB0\n";  // Latin-1
  text += "\t odd line;\r\n";
  text += "soon;1500;\"quoted \"\"twice\"\"\"\n";
  text += stamp(45) + ";1500;ok\n";
  text += stamp(45) + ".25;15";
  const auto read = read_log(text, options);
  CHECK(read.tally.rejected == 4);
  CHECK(test::slurp(rejects.path()) ==
        "# line 32: wrong number of cells: 4, not 3\n"
        "2026-06-15 08:00:40;1500;caf\xE9;\xB0\n"
        "# line 33: wrong number of cells: 2, not 3\n"
        "\t odd line;\r\n"
        "# line 34: time can't be read\n"
        "soon;1500;\"quoted \"\"twice\"\"\"\n"
        "# line 36: last line cut off: 2, not 3\n" +
            stamp(45) + ".25;15\n");
}

TEST_CASE("a reject file that can't be written is an error") {
  ReadOptions options;
  options.rejects_path = "/nowhere/at/all";
  const TempFile file("time,rpm\n" + stamp(0) + ",1500\n");
  auto log = Log::open(file.path(), options);
  REQUIRE(log);
  CHECK_FALSE(log->rows());
}

TEST_CASE("cells that are no number are missing, counted and located") {
  const auto read = read_log("time,rpm,oil kPa\n" + stamp(0) + ",1500,300\n" +
                             stamp(1) + ",15OO,300\n" + stamp(2) +
                             ",1500,3oo\n" + stamp(3) + ",1500,300\n");
  CHECK(read.rows.size() == 4);
  CHECK(read.rows[1].blank == bit(Channel::engine_speed));
  CHECK(read.rows[2].blank == bit(Channel::oil_pressure));
  CHECK(read.noted("\"rpm\": 1 cell is no number, the first on line 3"));
}

// Contract section 3, the rule on bus codes; SAE J1939-71: 4 kPa a bit, 0xFF.
TEST_CASE("a leaked bus code is missing, an ordinary 255 kPa is not") {
  const auto read = read_log("time,oil pressure kPa,coolant C\n" + stamp(0) +
                             ",300,80\n" + stamp(1) + ",255,80\n" + stamp(2) +
                             ",1020,215\n" + stamp(3) + ",300,81\n");
  REQUIRE(read.rows.size() == 4);
  CHECK(read.value(1, Channel::oil_pressure) == 255.0);
  CHECK(read.rows[2].present == 0);
  CHECK(read.rows[2].blank ==
        (bit(Channel::oil_pressure) | bit(Channel::coolant_temperature)));
}

TEST_CASE("codes at a log's very beginning are known by what follows") {
  std::string text = "time,rpm,oil kPa\n";
  for (int s = 0; s < 40; ++s) {
    text += stamp(s) + (s < 5 ? ",8191.875,1020\n" : ",1800,340\n");
  }
  const auto read = read_log(text);
  CHECK(read.rows[4].present == 0);
  CHECK(read.rows[5].blank == 0);
}

TEST_CASE("units in headers and readings that disagree are said so") {
  std::string text = "time,Oil Press (psi),Coolant (C)\n";
  for (int s = 0; s < 40; ++s) text += stamp(s) + ",301,82\n";
  const auto read = read_log(text);
  CHECK(read.column(1).unit == LogUnit::kPa);
  CHECK(read.value(0, Channel::oil_pressure) == 301.0);
  CHECK(read.noted("can't be psi"));
  CHECK(read.noted("unit = \"psi\""));
}

TEST_CASE("two columns that claim one channel are never picked in silence") {
  std::string text = "time,EGT 1 (C),EGT 2 (C)\n";
  for (int s = 0; s < 20; ++s) {
    text += stamp(s) + fmt::format(",{},{}\n", 401 + s % 3, 405 + s % 2);
  }
  const auto tie = read_log(text);
  CHECK(tie.column(1).name.empty());
  CHECK(tie.column(2).name.empty());
  CHECK(tie.noted("index = 2, channel = \"exhaust_temperature\""));
  CHECK(tie.noted("index = 3, channel = \"exhaust_temperature\""));

  // One of them is empty: no question.
  std::string empty = "time,Oil Press (psi),Oil Press (psi)\n";
  for (int s = 0; s < 20; ++s) empty += stamp(s) + ",,41\n";
  const auto one = read_log(empty);
  CHECK(one.column(1).name.empty());
  CHECK(one.column(2).name == "oil_pressure");

  // The better match wins and both say why.
  std::string better = "time,Diesel kW,Diesel1 kW\n";
  for (int s = 0; s < 20; ++s) better += stamp(s) + fmt::format(",{},7\n", s);
  const auto best = read_log(better);
  CHECK(best.column(1).name == "power");
  CHECK(best.column(1).why.find("better match") != std::string::npos);
  CHECK(best.column(2).why.find("better match") != std::string::npos);
}

// Contract section 3.
TEST_CASE("a clock column is elapsed time or time of day") {
  const auto clock_log = [](const char* header, int first_s) {
    std::string text = fmt::format("{},rpm\n", header);
    for (int s = first_s; s < first_s + 30; ++s) {
      text += fmt::format("{:02}:{:02}:{:02},1800\n", s / 3600, s / 60 % 60,
                          s % 60);
    }
    return read_log(text);
  };
  CHECK(clock_log("Time", 5).layout.elapsed);
  CHECK(clock_log("Elapsed", 500).layout.elapsed);
  CHECK(clock_log("Run Time", 500).layout.elapsed);
  const auto of_day = clock_log("Time", 500);
  CHECK_FALSE(of_day.layout.elapsed);
  CHECK(of_day.noted("no date"));
}

TEST_CASE("a clock without date runs on over midnight") {
  std::string text = "Time,rpm\n";
  for (int s = 86390; s < 86410; ++s) {
    const int d = s % 86400;
    text += fmt::format("{:02}:{:02}:{:02},{}\n", d / 3600, d / 60 % 60, d % 60,
                        1800 + s % 2);
  }
  const auto read = read_log(text);
  REQUIRE(read.rows.size() == 20);
  for (std::size_t i = 1; i < 20; ++i) {
    CHECK((read.rows[i].at - read.rows[i - 1].at).ms == 1000);
    CHECK(read.rows[i].clock == ClockEvent::none);
  }
}

TEST_CASE("the order of day and month is decided from the whole file") {
  const auto dates = [](int first_day, int days, int month) {
    std::string text = "Date,Time,rpm\n";
    for (int d = first_day; d < first_day + days; ++d) {
      for (int h = 0; h < 24; ++h) {
        text += fmt::format("{:02}/{:02}/2026,{:02}:00:00,1800\n", d, month, h);
      }
    }
    return text;
  };
  // The 13th proves it.
  CHECK(read_log(dates(10, 5, 6)).layout.time_format ==
        "DD/MM/YYYY and hh:mm:ss, no zone");
  // Days that follow each other prove it too: months would leap.
  CHECK(read_log(dates(1, 3, 6)).layout.time_format ==
        "DD/MM/YYYY and hh:mm:ss, no zone");
  // A run a day, or a run a month on the same day: nothing shows which.
  std::string runs = "Date/Time,rpm\n";
  for (int k = 1; k < 8; ++k) {
    for (int s = 0; s < 60; ++s) {
      runs += fmt::format("{:02}/05/2026 08:00:{:02},1800\n", k, s);
    }
  }
  CHECK(open_error(runs).line().find("--date-order") != std::string::npos);
  // A single day proves nothing.
  const Error error = open_error(dates(5, 1, 6));
  CHECK(error.line().find("--date-order") != std::string::npos);
  ReadOptions options;
  options.date_order = DateOrder::mdy;
  CHECK(format_time(read_log(dates(5, 1, 6), options).rows[0].logged, {}) ==
        "2026-05-06T00:00:00");
  options.date_order = DateOrder::dmy;
  CHECK(format_time(read_log(dates(5, 1, 6), options).rows[0].logged, {}) ==
        "2026-06-05T00:00:00");
  // The same day whatever the order.
  CHECK(read_log(dates(6, 1, 6)).rows.size() == 24);
}

// The proof may be far behind the beginning.
TEST_CASE("a late thirteenth settles the order of a long log") {
  std::string text = "Date/Time,rpm\n";
  for (int i = 0; i < 40000; ++i) {
    text += fmt::format("06/12/2026 {:02}:{:02}:{:02},{}\n", i / 3600,
                        i / 60 % 60, i % 60, 1800 + i % 7);
  }
  CHECK_FALSE(open_error(text).remedy.empty());
  text += "06/13/2026 00:00:01,1800\n";
  for (int i = 0; i < 40000; ++i) {
    text += fmt::format("07/01/2026 {:02}:{:02}:{:02},{}\n", i / 3600,
                        i / 60 % 60, i % 60, 1800 + i % 7);
  }
  CHECK(read_log(text).layout.time_format.starts_with("MM/DD/YYYY"));
}

TEST_CASE("a given time zone moves stamps that have none") {
  ReadOptions options;
  options.utc_offset_min = 120;
  const std::string text =
      "time,rpm\n" + stamp(0) + ",1800\n" + stamp(1) + ",1800\n";
  const auto read = read_log(text, options);
  CHECK(read.layout.zone_known);
  CHECK(format_time(read.rows[0].logged, read.layout) ==
        "2026-06-15T06:00:00Z");
  CHECK(read_log("Time (UTC),rpm\n" + stamp(0) + ",1800\n").layout.zone_known);
  // A zone of their own wins.
  const auto own = read_log("time,rpm\n2026-06-15T08:00:00Z,1800\n", options);
  CHECK(format_time(own.rows[0].logged, own.layout) == "2026-06-15T08:00:00Z");
}

TEST_CASE("a log without header is refused with a reason") {
  std::string text;
  for (int s = 0; s < 30; ++s) text += stamp(s) + ",1800,41\n";
  const Error error = open_error(text);
  CHECK(error.what.find("no header") != std::string::npos);
  CHECK(error.remedy.find("map") != std::string::npos);
}

TEST_CASE("joined files with other columns are read by their names") {
  std::string text = "time,rpm,oil psi,coolant F\n";
  for (int s = 0; s < 20; ++s) text += stamp(s) + ",1800,41,180\n";
  text += "coolant F,time,oil kPa,rpm,extra\n";
  for (int s = 20; s < 40; ++s) text += "181," + stamp(s) + ",281,1801,7\n";
  text += "time,rpm,oil psi,coolant F\n";
  for (int s = 40; s < 60; ++s) text += stamp(s) + ",1802,42,182\n";
  const auto read = read_log(text);
  REQUIRE(read.rows.size() == 60);
  CHECK(read.value(25, Channel::engine_speed) == 1801.0);
  CHECK(read.value(25, Channel::oil_pressure) == 281.0);
  CHECK(read.value(45, Channel::engine_speed) == 1802.0);
  CHECK(read.value(45, Channel::oil_pressure) == Approx(42 * 6.89475729316836));
  CHECK(read.tally.rejected == 0);
  CHECK(read.noted("line 22: a header with other columns"));
}

TEST_CASE("rows under a header without time are refused, not misread") {
  std::string text = "time,rpm,oil psi\n";
  for (int s = 0; s < 20; ++s) text += stamp(s) + ",1800,41\n";
  text += "name,size,colour\n";
  for (int s = 20; s < 40; ++s) text += stamp(s) + ",9999,99\n";
  text += "time,rpm,oil psi\n";
  for (int s = 40; s < 60; ++s) text += stamp(s) + ",1800,41\n";
  const auto read = read_log(text);
  CHECK(read.rows.size() == 40);
  CHECK(read.tally.rejected == 20);
}

TEST_CASE("rows above the first header are read") {
  std::string text;
  for (int s = 0; s < 35; ++s) text += stamp(s) + ",1800,41\n";
  text += "time,rpm,oil psi\n";
  for (int s = 35; s < 90; ++s) text += stamp(s) + ",1800,41\n";
  const auto read = read_log(text);
  CHECK(read.layout.header_line == 36);
  CHECK(read.rows.size() == 90);
}

TEST_CASE("several sets in one log are told apart") {
  std::string text = "time,unit,rpm\n";
  for (int s = 0; s < 50; ++s) {
    text += stamp(s) + ",Port,1800\n" + stamp(s) + ",Starboard,0\n";
  }
  const auto read = read_log(text);
  REQUIRE(read.units == std::vector<std::string>{"Port", "Starboard"});
  CHECK(read.rows.size() == 100);
  for (const Row& row : read.rows) {
    CHECK(row.value[0] == (row.unit == 0 ? 1800.0 : 0.0));
    CHECK(row.at == row.logged);  // nothing was spread
  }
}

TEST_CASE("the last cell of a log that was cut off is not trusted") {
  std::string text = "time,rpm,coolant C\n";
  for (int s = 0; s < 40; ++s)
    text += stamp(s) + fmt::format(",1800,82.{}\n", s % 10);
  const auto whole = read_log(text + stamp(40) + ",1800,82.5");
  CHECK(whole.rows.back().present ==
        (bit(Channel::engine_speed) | bit(Channel::coolant_temperature)));
  const auto cut = read_log(text + stamp(40) + ",1800,8");
  CHECK(cut.rows.back().present == bit(Channel::engine_speed));
  CHECK(cut.rows.back().blank == bit(Channel::coolant_temperature));
}

TEST_CASE("alarms stand while their texts are there") {
  std::string text = "time,rpm,alarm\n";
  text += stamp(0) + ",1800,\n";
  text += stamp(1) + ",1800,Low oil; High coolant\n";
  text += stamp(2) + ",1800,High coolant | Low oil\n";
  text += stamp(3) + ",1800,High coolant / Fuel low\n";
  text += stamp(4) + ",1800,OK\n";
  const auto read = read_log(text);
  REQUIRE(read.alarms ==
          std::vector<std::string>{"Low oil", "High coolant", "Fuel low"});
  CHECK(read.rows[0].alarms == 0);
  CHECK(read.rows[1].alarms == 3);
  CHECK(read.rows[2].alarms == 3);
  CHECK(read.rows[3].alarms == 6);
  CHECK(read.rows[4].alarms == 0);
}

TEST_CASE("a header with a unit counts, whatever its readings look like") {
  // The pressure never came up before the set tripped.
  std::string text = "time,rpm,Oil Pressure (psi),Oil Pressure,Coolant (C)\n";
  for (int s = 0; s < 20; ++s) {
    text += stamp(s) + fmt::format(",1800,{},{},{}\n", s % 2, s % 2,
                                   s % 3 == 0 ? "81" : "too hot");
  }
  const TempFile file(text);
  const auto log = Log::open(file.path(), {});
  REQUIRE(log);
  const auto& columns = log->layout().columns;
  CHECK(columns[2].name == "oil_pressure");
  CHECK(columns[3].name.empty());  // a contact
  CHECK(columns[4].name == "coolant_temperature");
}

TEST_CASE("contacts of yes and no are alarms by their headers") {
  std::string text = "time,rpm,Low Oil Alarm,Overspeed Shutdown\n";
  for (int s = 0; s < 10; ++s) {
    text +=
        stamp(s) + fmt::format(",1800,{},{}\n", s > 5 ? 1 : 0, s > 7 ? 1 : 0);
  }
  const auto read = read_log(text);
  CHECK(read.alarms ==
        std::vector<std::string>{"Low Oil Alarm", "Overspeed Shutdown"});
  CHECK(read.rows[5].alarms == 0);
  CHECK(read.rows[6].alarms == 1);
  CHECK(read.rows[9].alarms == 3);
}

TEST_CASE("only the channels wanted are converted, the rows stay the same") {
  const auto rows = test::made_up_rows(200);
  const TempFile file(test::write_log(rows, {}));
  auto log = Log::open(file.path(), {});
  REQUIRE(log);
  auto all = log->rows();
  auto few = log->rows(bit(Channel::engine_speed));
  Row a;
  Row b;
  while (all->next(a)) {
    REQUIRE(few->next(b));
    CHECK(a.line == b.line);
    CHECK(a.at == b.at);
    CHECK((a.present & bit(Channel::engine_speed)) == b.present);
  }
  CHECK_FALSE(few->next(b));
}

TEST_CASE("progress runs from 0 to 1 and never back") {
  const auto rows = test::made_up_rows(6000);
  const std::string text = test::write_log(rows, {});
  REQUIRE(text.size() > 600000);  // some blocks
  const TempFile file(text);
  auto log = Log::open(file.path(), {});
  REQUIRE(log);
  auto reader = log->rows();
  REQUIRE(reader);
  CHECK(reader->progress() == 0);
  double last = 0;
  std::size_t steps = 0;
  Row row;
  while (reader->next(row)) {
    const double now = reader->progress();
    if (now < last) FAIL("progress went back to " << now);
    steps += now > last;
    last = now;
  }
  CHECK(reader->progress() == 1);
  CHECK(steps >= 3);
}

// GNU date is the outside formatter; 100,000 stamps 31,415 s apart.
TEST_CASE("stamps are printed as GNU date prints them") {
  const auto theirs = test::run_command(
      "seq -f @%.0f 0 31415 3141468585 | date -u -f - +%FT%TZ");
  if (!theirs) {
    WARN("no GNU date here: not compared");
    return;
  }
  LogLayout layout;
  layout.zone_known = true;
  std::string ours;
  for (std::int64_t k = 0; k < 100000; ++k) {
    ours += format_time(TimeMs{k * 31415000}, layout) + "\n";
  }
  const bool equal = ours == *theirs;  // too long to be shown
  CHECK(equal);
  CHECK(format_time(TimeMs{-1}, layout) == "1969-12-31T23:59:59.999Z");
}

}  // namespace
}  // namespace telltale::host
