// The same story in every shape of journal, and odd ones.
#include "alarms/examine_alarms.hpp"

#include <fmt/format.h>

#include <cstdlib>
#include <functional>

#include "catch.hpp"
#include "temp_file.hpp"

namespace telltale::test {
namespace {

using host::AlarmFigures;
using host::AlarmReport;
using host::JournalShape;

// What each column is to its alarm, as `telltale columns` shows it.
std::vector<std::string> parts_of(const AlarmReport& report) {
  std::vector<std::string> parts;
  for (const host::ColumnUse& use : report.layout.columns) {
    parts.push_back(use.part.empty() ? use.name : use.part);
  }
  return parts;
}

std::string stamp(int s) {
  return fmt::format("2026-06-01 {:02}:{:02}:{:02}", 8 + s / 3600, s / 60 % 60,
                     s % 60);
}

AlarmReport read(const std::string& text, const std::string& unit = "") {
  const TempFile file(text);
  host::AlarmOptions options;
  options.unit = unit;
  auto report = host::examine_alarms(file.path(), options);
  if (!report) FAIL(report.error().line());
  return std::move(*report);
}

const AlarmFigures& find(const AlarmReport& r, const std::string& name) {
  for (const AlarmFigures& f : r.alarms) {
    if (r.name(f.alarm).name == name) return f;
  }
  FAIL("no alarm " << name);
  return r.alarms.front();
}

// Bilge chatters 30 times, on for 5 s of every 12; a trip stands for 700 s.
struct Step {
  int at;
  std::string name;
  bool on;
};
std::vector<Step> story(const std::string& bilge, const std::string& trip) {
  std::vector<Step> steps;
  for (int k = 0; k < 30; ++k) {
    steps.push_back({100 + k * 12, bilge, true});
    steps.push_back({105 + k * 12, bilge, false});
  }
  steps.push_back({1000, trip, true});
  steps.push_back({1700, trip, false});
  return steps;
}

void check_story(const AlarmReport& r, JournalShape shape,
                 const std::string& bilge, const std::string& trip,
                 bool spans = true) {
  CHECK(r.shape == shape);
  CHECK(r.tally.rejected == 0);
  const AlarmFigures& b = find(r, bilge);
  CHECK(b.raises == 30);
  CHECK(b.chatter_index == Approx(1.0 / 12));
  CHECK(b.chatters());
  const AlarmFigures& t = find(r, trip);
  CHECK(t.raises == 1);
  CHECK(r.name(t.alarm).role == host::AlarmRole::shutdown);
  if (!spans) return;
  CHECK(b.standing_s == 150);
  CHECK(t.standing_s == 700);
}

TEST_CASE("one row an event with its state") {
  std::string text = "time,tag,state,priority\n";
  for (const Step& s : story("BILGE_HIGH", "OIL_TRIP")) {
    text += fmt::format("{},{},{},{}\n", stamp(s.at), s.name,
                        s.on ? "ALM" : "RTN", s.on ? "1" : "1");
  }
  check_story(read(text), JournalShape::states, "BILGE_HIGH", "OIL_TRIP");
}

TEST_CASE("states in another dialect: semicolons, day first, numbers") {
  std::string text = "Datum;Uhrzeit;Meldung;Zustand\r\n";
  for (const Step& s : story("Bilge hoch", "Motor Notstop")) {
    const std::string at = stamp(s.at);
    text += fmt::format("01.06.2026;{};{};{}\r\n", at.substr(11), s.name,
                        s.on ? "kommt" : "geht");
  }
  check_story(read(text), JournalShape::states, "Bilge hoch", "Motor Notstop");
}

TEST_CASE("columns of what came and what went") {
  std::string text = "time,alarm on,alarm off\n";
  for (const Step& s : story("bilge high", "oil trip")) {
    text += fmt::format("{},{},{}\n", stamp(s.at), s.on ? s.name : "",
                        s.on ? "" : s.name);
  }
  check_story(read(text), JournalShape::on_and_off, "bilge high", "oil trip");
}

TEST_CASE("one row an alarm with its beginning and end") {
  std::string text = "unit,alarm,time on,time off\n";
  for (int k = 0; k < 30; ++k) {
    text += fmt::format("A1,bilge high,{},{}\n", stamp(100 + k * 12),
                        stamp(105 + k * 12));
  }
  text += fmt::format("A1,oil trip,{},{}\n", stamp(1000), stamp(1700));
  const AlarmReport r = read(text);
  check_story(r, JournalShape::intervals, "bilge high", "oil trip");
  CHECK(r.units == std::vector<std::string>{"A1"});
  CHECK(parts_of(r) ==
        std::vector<std::string>{"unit", "alarm", "beginning", "end"});
}

TEST_CASE("every column of a journal is told what for, or why not") {
  const AlarmReport r = read(
      "No,time on,time off,alarm,class,acknowledged,by\n"
      "1,2026-06-01 08:00:00,2026-06-01 08:00:05,oil low,A,"
      "2026-06-01 08:00:02,jk\n"
      "2,2026-06-01 09:00:00,2026-06-01 09:00:05,bilge high,B,"
      "2026-06-01 09:00:02,mm\n");
  CHECK(parts_of(r) == std::vector<std::string>{"", "beginning", "end", "alarm",
                                                "priority", "", ""});
  CHECK(r.layout.columns[0].why == "numbers");
  CHECK(r.layout.columns[5].why == "of its acknowledgement");
  CHECK(r.layout.columns[6].why == "text");
  // As of a log: stamps without a zone are noted.
  REQUIRE(r.layout.notes.size() == 1);
  CHECK(r.layout.notes[0].find("--timezone") != std::string::npos);
}

// The times of something else stand first, and have the plainest headers.
TEST_CASE("an alarm begins when it came, not when it was written or seen") {
  const AlarmReport r = read(
      "timestamp,acknowledged,alarm,time on,time off\n"
      "2026-06-01 08:30:00,2026-06-01 08:10:00,oil low,"
      "2026-06-01 08:00:00,2026-06-01 08:00:05\n"
      "2026-06-01 09:30:00,2026-06-01 09:10:00,bilge high,"
      "2026-06-01 09:00:00,2026-06-01 09:00:07\n");
  CHECK(find(r, "oil low").standing_s == 5);
  CHECK(find(r, "bilge high").standing_s == 7);
  CHECK(parts_of(r) ==
        std::vector<std::string>{"", "", "alarm", "beginning", "end"});
}

TEST_CASE("the time an alarm was seen counts where there is no other") {
  const AlarmReport seen = read(
      "Alarm,Acknowledge time\n"
      "oil low,2026-06-01 08:00:00\n"
      "bilge high,2026-06-01 08:05:00\n"
      "oil low,2026-06-01 09:00:00\n");
  CHECK(find(seen, "oil low").raises == 2);
  CHECK(find(seen, "bilge high").raises == 1);
  const AlarmReport both = read(
      "Tag,Status,Ack/Alarm time\n"
      "TAH1,ALM,2026-06-01 08:00:00\n"
      "TAH1,RTN,2026-06-01 08:00:09\n"
      "TAH1,ALM,2026-06-01 09:00:00\n");
  CHECK(find(both, "TAH1").raises == 2);
}

TEST_CASE("dates and times of day, of the beginning and of the end") {
  std::string text = "Start date;Start time;End date;End time;Alarm\n";
  const auto row = [&text](int from, int to, const char* name) {
    text += fmt::format("01.06.2026;{};01.06.2026;{};{}\n",
                        stamp(from).substr(11), stamp(to).substr(11), name);
  };
  for (int k = 0; k < 30; ++k) row(100 + k * 12, 105 + k * 12, "bilge high");
  row(1000, 1700, "oil trip");
  check_story(read(text), JournalShape::intervals, "bilge high", "oil trip");
}

// Headers that say nothing: only the map tells.
TEST_CASE("a map names the columns of a journal") {
  std::string text = "time,wo,was,zst\n";
  for (const Step& s : story("bilge high", "oil trip")) {
    text += fmt::format("{},quay,{},{}\n", stamp(s.at), s.name,
                        s.on ? "on" : "off");
  }
  const TempFile file(text);
  const TempFile map(
      "[[column]]\nheader = \"wo\"\nchannel = \"unit\"\n"
      "[[column]]\nheader = \"was\"\nchannel = \"alarm\"\n"
      "[[column]]\nheader = \"zst\"\nchannel = \"state\"\n");
  host::AlarmOptions options;
  options.read.map_path = map.path();
  const auto report = host::examine_alarms(file.path(), options);
  REQUIRE(report);
  check_story(*report, JournalShape::states, "bilge high", "oil trip");
  CHECK(report->units == std::vector<std::string>{"quay"});
}

TEST_CASE("a beginning and a duration") {
  std::string text = "start,alarm,duration (s)\n";
  for (int k = 0; k < 30; ++k) {
    text += fmt::format("{},bilge high,5\n", stamp(100 + k * 12));
  }
  text += fmt::format("{},oil trip,700\n", stamp(1000));
  const AlarmReport r = read(text);
  check_story(r, JournalShape::intervals, "bilge high", "oil trip");
  CHECK(parts_of(r) ==
        std::vector<std::string>{"beginning", "alarm", "duration"});
  CHECK(r.layout.columns[2].why ==
        "how long the alarm of the row stood, in seconds");
}

TEST_CASE("messages as alarms came") {
  std::string text = "time,message\n";
  for (const Step& s : story("bilge high", "oil trip")) {
    if (s.on) text += fmt::format("{},{}\n", stamp(s.at), s.name);
  }
  const AlarmReport r = read(text);
  check_story(r, JournalShape::messages, "bilge high", "oil trip", false);
  CHECK_FALSE(r.clears_told);
  CHECK(parts_of(r) == std::vector<std::string>{"time", "alarm"});
}

std::string sampled(const std::function<std::string(bool, bool)>& cells,
                    const std::string& header) {
  std::string text = header;
  bool bilge = false;
  bool trip = false;
  const std::vector<Step> steps = story("b", "t");
  for (int s = 0; s < 2000; ++s) {
    for (const Step& step : steps) {
      if (step.at == s) (step.name == "b" ? bilge : trip) = step.on;
    }
    text += stamp(s) + cells(bilge, trip);
  }
  return text;
}

TEST_CASE("a log whose text column names what stands, several at once") {
  const std::string text = sampled(
      [](bool bilge, bool trip) {
        return fmt::format(",50.0,{}{}{}\n", bilge ? "bilge high" : "",
                           bilge && trip ? "; " : "", trip ? "oil trip" : "");
      },
      "time,frequency (Hz),alarms\n");
  const AlarmReport r = read(text);
  check_story(r, JournalShape::level, "bilge high", "oil trip");
  CHECK(r.span_s == 1999);
}

TEST_CASE("columns of bits") {
  const std::string text = sampled(
      [](bool bilge, bool trip) {
        return fmt::format(",{},{}\n", int{bilge}, int{trip});
      },
      "time,BILGE HIGH,OIL TRIP\n");
  const AlarmReport r = read(text);
  check_story(r, JournalShape::contacts, "BILGE HIGH", "OIL TRIP");
  CHECK(r.span_s == 1999);
}

TEST_CASE("fault numbers get their meaning") {
  std::string text = "time,SPN,FMI,active\n";
  for (const Step& s : story("110,16", "100,1")) {
    text += fmt::format("{},{},{}\n", stamp(s.at), s.name, s.on ? 1 : 0);
  }
  const AlarmReport r = read(text);
  check_story(r, JournalShape::states, "SPN 110 FMI 16", "SPN 100 FMI 1");
  CHECK(r.name(find(r, "SPN 110 FMI 16").alarm).text ==
        "engine coolant temperature: above normal range, moderately severe");
}

TEST_CASE("a journal whose newest row comes first") {
  std::vector<Step> steps = story("bilge high", "oil trip");
  std::string text = "time,alarm,state\n";
  for (auto s = steps.rbegin(); s != steps.rend(); ++s) {
    text +=
        fmt::format("{},{},{}\n", stamp(s->at), s->name, s->on ? "on" : "off");
  }
  check_story(read(text), JournalShape::states, "bilge high", "oil trip");
}

TEST_CASE("rows that come a little late are put in order") {
  std::vector<Step> steps = story("bilge high", "oil trip");
  for (std::size_t i = 5; i + 1 < steps.size(); i += 6) {
    std::swap(steps[i], steps[i + 1]);
  }
  std::string text = "time,alarm,state\n";
  for (const Step& s : steps) {
    text += fmt::format("{},{},{}\n", stamp(s.at), s.name, s.on ? "on" : "off");
  }
  const AlarmReport r = read(text);
  check_story(r, JournalShape::states, "bilge high", "oil trip");
  CHECK(r.notes.size() == 1);
}

TEST_CASE("a clock set back does not make time run twice") {
  std::string text = "time,alarm,state\n";
  for (int k = 0; k < 400; ++k) {
    // Every 10 s; after half of them the clock goes back by an hour.
    const int at = 4000 + k * 10 - (k >= 200 ? 3600 : 0);
    text += fmt::format("{},a,{}\n", stamp(at), k % 2 == 0 ? "on" : "off");
  }
  const AlarmReport r = read(text);
  CHECK(find(r, "a").raises == 200);
  CHECK(find(r, "a").standing_s == Approx(2000).margin(10));
  CHECK(r.span_s == Approx(3990).margin(10));
}

TEST_CASE("lines that can't be read are counted, the rest is read") {
  std::string text = "time,alarm,state\n";
  for (const Step& s : story("bilge high", "oil trip")) {
    text += fmt::format("{},{},{}\n", stamp(s.at), s.name, s.on ? "on" : "off");
  }
  text += "yesterday,bilge high,on\n";
  text += stamp(1800) + ",bilge high\n";
  text += stamp(1801) + ",bilge high,perhaps\n";
  text += stamp(1802) + ",bilge high,off\n";
  const AlarmReport r = read(text);
  CHECK(r.tally.rejected == 2);
  CHECK(find(r, "bilge high").raises == 30);
  CHECK(r.tally.lines == 67);
  bool told = false;
  for (const std::string& note : r.notes) {
    told = told || note.find("line 66") != std::string::npos;
  }
  CHECK(told);
}

TEST_CASE("one unit of several") {
  std::string text = "time,genset,alarm,state\n";
  for (int k = 0; k < 20; ++k) {
    text += fmt::format("{},{},low fuel,{}\n", stamp(100 * k),
                        k % 4 < 2 ? "port" : "starboard",
                        k % 2 == 0 ? "on" : "off");
  }
  CHECK(read(text).alarms.size() == 2);
  const AlarmReport r = read(text, "port");
  REQUIRE(r.alarms.size() == 1);
  CHECK(r.name(r.alarms[0].alarm).unit == "port");
  CHECK(r.alarms[0].raises == 5);
}

TEST_CASE("files that hold no alarms are refused with a reason") {
  for (const std::string text :
       {"time,frequency (Hz),oil_pressure (kPa)\n2026-06-01 08:00:00,50,300\n"
        "2026-06-01 08:00:01,50,301\n2026-06-01 08:00:02,50,302\n",
        "hello\nworld\n"}) {
    const TempFile file(text);
    const auto report = host::examine_alarms(file.path(), {});
    REQUIRE_FALSE(report);
    CHECK_FALSE(report.error().what.empty());
    CHECK_FALSE(report.error().remedy.empty());
  }
  CHECK_FALSE(host::examine_alarms("/nowhere/at-all.csv", {}));
}

// A public journal of two wind turbines (lkev/wtphm): its description counts
// 5,604 entries, 605 of no length, one of 162 days, and at most 63 in a stretch
// of ten minutes by the clock.
TEST_CASE("the public journal of two turbines", "[real]") {
  const char* folder = std::getenv("TELLTALE_REAL_DATA");
  if (folder == nullptr) return;
  const auto report = host::examine_alarms(
      std::string(folder) + "/real-24-turbine-alarm-journal-on-off.csv", {});
  REQUIRE(report);
  CHECK(report->shape == JournalShape::intervals);
  CHECK(report->raises == 5604);
  CHECK(report->tally.rejected == 0);
  CHECK(report->units.size() == 2);
  CHECK(report->counts.ten_minutes().most == 63);
  double longest = 0;
  for (const AlarmFigures& f : report->alarms) {
    longest = std::max(longest, f.longest_s);
  }
  CHECK(longest / 86400 == Approx(162).margin(1));
}

}  // namespace
}  // namespace telltale::test
