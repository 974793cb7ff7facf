#include "ingest/time_order.hpp"

#include <random>
#include <string>
#include <vector>

#include "catch.hpp"

namespace telltale::host {
namespace {

// Rows by their stamps in seconds; the row number makes each text unique.
struct Fixture {
  explicit Fixture(double interval_s = 1.0, double step_s = 1.0)
      : order({DurationMs{static_cast<std::int64_t>(interval_s * 1000)},
               DurationMs{static_cast<std::int64_t>(step_s * 1000)}}) {}

  void push(double stamp_s, std::uint16_t unit = 0) {
    push_row(make(stamp_s, unit), std::to_string(line));
  }
  Row make(double stamp_s, std::uint16_t unit = 0) {
    Row row;
    row.logged = TimeMs{static_cast<std::int64_t>(stamp_s * 1000)};
    row.line = ++line;
    row.unit = unit;
    return row;
  }
  void push_row(const Row& row, const std::string& text) {
    order.push(row, text, fingerprint(text, 0), 1);
    drain();
  }
  void drain() {
    Row row;
    while (order.pop(row)) out.push_back(row);
    for (TimeOrder::Dropped& d : order.take_dropped()) dropped.push_back(d);
  }
  void finish() {
    order.finish();
    drain();
  }

  TimeOrder order;
  std::uint64_t line = 0;
  std::vector<Row> out;
  std::vector<TimeOrder::Dropped> dropped;
};

std::vector<double> logged_s(const Fixture& f) {
  std::vector<double> stamps;
  for (const Row& row : f.out) {
    stamps.push_back(static_cast<double>(row.logged.ms) / 1000);
  }
  return stamps;
}

std::vector<double> at_s(const Fixture& f) {
  std::vector<double> stamps;
  for (const Row& row : f.out) {
    stamps.push_back(static_cast<double>(row.at.ms) / 1000);
  }
  return stamps;
}

std::size_t clock_events(const Fixture& f, ClockEvent event) {
  std::size_t count = 0;
  for (const Row& row : f.out) count += row.clock == event;
  return count;
}

TEST_CASE("rows in order pass unchanged") {
  Fixture f;
  for (int s = 0; s < 200; ++s) f.push(s);
  CHECK(f.out.size() > 100);  // they do not all wait for the end
  f.finish();
  REQUIRE(f.out.size() == 200);
  for (std::size_t i = 0; i < 200; ++i) {
    CHECK(f.out[i].at == f.out[i].logged);
    CHECK(f.out[i].clock == ClockEvent::none);
  }
  CHECK(f.dropped.empty());
}

// Contract section 3: local disorder is sorted.
TEST_CASE("late rows are put in their place") {
  Fixture f;
  for (double s : {0, 1, 3, 2, 4, 5, 9, 6, 7, 8, 10, 14, 13, 12, 11, 15}) {
    f.push(s);
  }
  f.finish();
  std::vector<double> expected;
  for (int s = 0; s < 16; ++s) expected.push_back(s);
  CHECK(logged_s(f) == expected);
  CHECK(at_s(f) == expected);
  CHECK(clock_events(f, ClockEvent::set_back) == 0);
  CHECK(f.dropped.empty());
}

TEST_CASE("any shuffle within ten rows is sorted") {
  std::mt19937 random(7);
  for (int round = 0; round < 200; ++round) {
    Fixture f;
    std::vector<double> stamps;
    for (int s = 0; s < 300; ++s) stamps.push_back(s);
    // Blocks of up to ten rows are shuffled: no row moves further than that.
    for (std::size_t at = 20; at + 10 < 280;) {
      const std::size_t size = 2 + random() % 9;
      std::shuffle(stamps.begin() + static_cast<long>(at),
                   stamps.begin() + static_cast<long>(at + size), random);
      at += size + random() % 20;
    }
    for (double s : stamps) f.push(s);
    f.finish();
    REQUIRE(f.out.size() == 300);
    REQUIRE(clock_events(f, ClockEvent::set_back) == 0);
    for (std::size_t i = 0; i < 300; ++i) {
      REQUIRE(f.out[i].logged.ms == static_cast<std::int64_t>(i) * 1000);
    }
  }
}

// Contract section 3: a step back after which time runs on is a clock step,
// never sorted.
TEST_CASE("a clock that is set back goes on by one interval") {
  for (int back : {2, 5, 30, 59, 61, 300, 3600}) {
    INFO("set back by " << back << " s");
    Fixture f;
    for (int s = 5000; s < 5200; ++s) f.push(s);
    for (int s = 5200 - back; s < 5400 - back; ++s) f.push(s);
    f.finish();
    REQUIRE(f.out.size() == 400);
    CHECK(clock_events(f, ClockEvent::set_back) == 1);
    CHECK(f.out[200].clock == ClockEvent::set_back);
    for (std::size_t i = 0; i < 400; ++i) {
      REQUIRE(f.out[i].line == i + 1);
      REQUIRE(f.out[i].at.ms == 5000000 + static_cast<std::int64_t>(i) * 1000);
    }
    // As logged stays as logged.
    CHECK(f.out[200].logged.ms == (5200 - back) * 1000);
  }
}

TEST_CASE("a row that comes far too late is dropped, counted and kept") {
  Fixture f;
  for (int s = 1000; s < 1400; ++s) {
    f.push(s);
    if (s == 1300) f.push_row(f.make(1000.5), "the late one");
  }
  f.finish();
  CHECK(f.out.size() == 400);
  REQUIRE(f.dropped.size() == 1);
  CHECK(f.dropped[0].fate == LineFate::too_late);
  CHECK(f.dropped[0].text == "the late one");
  CHECK(clock_events(f, ClockEvent::set_back) == 0);
}

TEST_CASE("with 5 min between rows ten rows are ten rows") {
  Fixture f(300, 300);
  for (int i : {0, 1, 2, 4, 5, 6, 3, 7, 8, 9, 10, 11, 12, 13, 14, 15, 16}) {
    f.push(i * 300);
  }
  f.finish();
  REQUIRE(f.out.size() == 17);
  for (std::size_t i = 0; i < 17; ++i) {
    CHECK(f.out[i].logged.ms == static_cast<std::int64_t>(i) * 300000);
  }
}

// Contract section 3: identical rows are duplicates and dropped.
TEST_CASE("identical rows are dropped, also a whole stretch of them") {
  Fixture f;
  const auto text = [](int s) { return "row " + std::to_string(s); };
  for (int s = 0; s < 500; ++s) f.push_row(f.make(s), text(s));
  f.push_row(f.make(499), text(499));
  // Two files joined whose ends overlap by 300 rows.
  for (int s = 200; s < 700; ++s) f.push_row(f.make(s), text(s));
  f.finish();
  CHECK(f.out.size() == 700);
  CHECK(f.dropped.size() == 301);
  for (const auto& d : f.dropped) CHECK(d.fate == LineFate::duplicate);
  CHECK(clock_events(f, ClockEvent::set_back) == 0);
}

TEST_CASE("the same text on another day is another row") {
  Fixture f;
  f.push_row(f.make(100), "12:00:00,0");
  f.push_row(f.make(100 + 86400), "12:00:00,0");
  f.finish();
  CHECK(f.out.size() == 2);
}

// Contract section 3: repeated stamps with different readings are spread
// evenly up to the next stamp.
TEST_CASE("rows that share a stamp are spread up to the next") {
  Fixture f(0.2);
  for (int s = 0; s < 100; ++s) {
    for (int k = 0; k < 5; ++k) f.push(s);
  }
  f.finish();
  REQUIRE(f.out.size() == 500);
  for (std::size_t i = 0; i < 500; ++i) {
    CHECK(f.out[i].at.ms == static_cast<std::int64_t>(i) * 200);
    CHECK(f.out[i].logged.ms == static_cast<std::int64_t>(i / 5) * 1000);
  }
}

TEST_CASE("before a gap, rows of one stamp keep their distance") {
  Fixture f(0.25);
  for (int s = 0; s < 20; ++s) {
    for (int k = 0; k < 4; ++k) f.push(s);
  }
  for (int k = 0; k < 4; ++k) f.push(420);
  f.finish();
  REQUIRE(f.out.size() == 84);
  CHECK(f.out[79].at.ms == 19750);
  CHECK(f.out[80].at.ms == 420000);
  CHECK(f.out[83].at.ms == 420750);
}

TEST_CASE("a late row among shared stamps is no clock step") {
  Fixture f(0.5);
  for (int s = 0; s < 50; ++s) {
    f.push(s);
    f.push(s);
    if (s == 30) f.push(29);
  }
  f.finish();
  CHECK(f.out.size() == 101);
  CHECK(clock_events(f, ClockEvent::set_back) == 0);
}

Row running(Fixture& f, double stamp_s, double hours, double coolant) {
  Row row = f.make(stamp_s);
  const auto set = [&](Channel channel, double value) {
    row.value[index_of(channel)] = value;
    row.present |= bit(channel);
  };
  set(Channel::engine_speed, 1800 + static_cast<double>(row.line % 3));
  set(Channel::engine_hours, hours);
  set(Channel::coolant_temperature, coolant);
  return row;
}

// Contract section 3: a jump forward of over 10 min while readings, hour meter
// and counters go on unchanged is a clock step.
TEST_CASE("a clock that is set forward is told from a gap") {
  struct Case {
    const char* what;
    double hours_after, coolant_after;
    bool step;
  };
  // An hour's leap; the meter shows tenths.
  for (const Case& c : {Case{"nothing changed", 1234.5, 82.0, true},
                        Case{"the meter ran on", 1235.5, 82.0, false},
                        Case{"the engine has cooled", 1234.5, 31.0, false}}) {
    INFO(c.what);
    Fixture f;
    for (int s = 0; s < 300; ++s) {
      f.push_row(running(f, s, 1234.5, 82.0 + 0.1 * (s % 2)),
                 std::to_string(s));
    }
    for (int s = 3900; s < 4200; ++s) {
      f.push_row(running(f, s, c.hours_after, c.coolant_after + 0.1 * (s % 2)),
                 std::to_string(s));
    }
    f.finish();
    REQUIRE(f.out.size() == 600);
    CHECK(clock_events(f, ClockEvent::set_forward) == (c.step ? 1 : 0));
    const std::int64_t leap = (f.out[300].at - f.out[299].at).ms;
    CHECK(leap == (c.step ? 1000 : 3601000));
    CHECK(f.out[300].logged.ms == 3900000);
    CHECK((f.out[599].at - f.out[300].at).ms == 299000);
  }
}

TEST_CASE("a logger that slept while the set was at rest left a gap") {
  Fixture f;
  for (double start : {0.0, 36000.0}) {
    for (int s = 0; s < 100; ++s) {
      Row row = f.make(start + s);
      row.value[index_of(Channel::engine_speed)] = 0;
      row.value[index_of(Channel::battery_voltage)] = 12.6;
      row.present = bit(Channel::engine_speed) | bit(Channel::battery_voltage);
      f.push_row(row, std::to_string(start + s));
    }
  }
  f.finish();
  CHECK(clock_events(f, ClockEvent::set_forward) == 0);
  CHECK((f.out[100].at - f.out[99].at).ms == 35901000);
}

TEST_CASE("units keep clocks of their own") {
  Fixture f;
  for (int s = 0; s < 300; ++s) {
    f.push(s, 0);
    f.push(s < 100 ? s + 5000 : s + 1000, 1);
  }
  f.finish();
  REQUIRE(f.out.size() == 600);
  std::vector<TimeMs> last(2, kNoTime);
  std::size_t back = 0;
  for (const Row& row : f.out) {
    CHECK(row.at >= last[row.unit]);
    last[row.unit] = row.at;
    if (row.clock == ClockEvent::set_back) {
      ++back;
      CHECK(row.unit == 1);
    }
  }
  CHECK(back == 1);
}

// Whatever comes, the analysis clock does not fall and every row goes
// somewhere.
TEST_CASE("random stamps: nothing is lost and time does not fall") {
  std::mt19937 random(11);
  for (int round = 0; round < 300; ++round) {
    Fixture f;
    const int rows = 1 + static_cast<int>(random() % 400);
    std::int64_t t = 0;
    for (int i = 0; i < rows; ++i) {
      switch (random() % 12) {
        case 0:
          t -= static_cast<std::int64_t>(random() % 200);
          break;
        case 1:
          t += static_cast<std::int64_t>(random() % 2000);
          break;
        case 2:
          break;
        default:
          ++t;
      }
      f.push(static_cast<double>(t), static_cast<std::uint16_t>(random() % 2));
    }
    f.finish();
    REQUIRE(f.out.size() + f.dropped.size() == static_cast<std::size_t>(rows));
    std::vector<TimeMs> last(2, kNoTime);
    for (const Row& row : f.out) {
      REQUIRE(row.at >= last[row.unit]);
      last[row.unit] = row.at;
    }
  }
}

}  // namespace
}  // namespace telltale::host
