#include "ingest/map_file.hpp"

#include <fmt/format.h>

#include <string>

#include "catch.hpp"
#include "ingest/byte_store.hpp"
#include "log_writer.hpp"
#include "read_log.hpp"

namespace telltale::host {
namespace {

using test::read_log;
using test::TempFile;

// The example of contract section 3, word for word.
constexpr std::string_view kExample = R"toml(
delimiter = ";"
decimal = ","
header_line = 3            # first line is 1; 0: no header
encoding = "latin-1"
time = { column = 1, format = "%d.%m.%Y %H:%M:%S", timezone = "+01:00" }
[[column]]
index = 4                  # counted from 1; or header = "Oil Press (psi)"
channel = "oil_pressure"   # "ignore" leaves it out
unit = "psi"
scale = 1.0                # value = reading * scale + offset, then the unit
offset = 0.0
missing = ["---", "255"]
)toml";

TEST_CASE("the contract's example is read") {
  const auto map = parse_map(kExample, "map");
  if (!map) FAIL(map.error().line());
  CHECK(map->delimiter == ';');
  CHECK(map->decimal == ',');
  CHECK(map->header_line == 3U);
  CHECK(map->encoding == Encoding::latin1);
  REQUIRE(map->time);
  CHECK(map->time->column == 1);
  CHECK(map->time->style->pattern == "%d.%m.%Y %H:%M:%S");
  CHECK(map->time->utc_offset_min == 60);
  REQUIRE(map->columns.size() == 1);
  CHECK(map->columns[0].index == 4);
  CHECK(map->columns[0].channel == Channel::oil_pressure);
  CHECK(map->columns[0].unit == LogUnit::psi);
  CHECK(map->columns[0].missing == std::vector<std::string>{"---", "255"});
}

TEST_CASE("a fault in a map is an error with its line") {
  struct Case {
    const char* text;
    int line;
    const char* what;
  };
  for (const Case& c :
       {Case{"delimeter = \";\"", 1, "unknown key"},
        Case{"\ndelimiter = 5", 2, "must be a text"},
        Case{"delimiter = \"x\"", 1, "impossible delimiter"},
        Case{"decimal = \";\"", 1, "impossible decimal"},
        Case{"header_line = -1", 1, "whole number"},
        Case{"header_line = 1.5", 1, "whole number"},
        Case{"encoding = \"klingon\"", 1, "unknown encoding"},
        Case{"time = 3", 1, "must be a table"},
        Case{"time = { colum = 1 }", 1, "unknown key"},
        Case{"time = { column = 1, format = \"%Q\" }", 1, "impossible format"},
        Case{"time = { column = 1, timezone = \"Mars\" }", 1,
             "impossible timezone"},
        Case{"time = { date = 1 }", 1, "go together"},
        Case{"time = { date = 1, time_of_day = 1 }", 1, "same column"},
        Case{"time = { column = 1, date = 2, time_of_day = 3 }", 1, "excludes"},
        Case{"[[column]]\nchannel = \"power\"", 1, "without index"},
        Case{"[[column]]\nindex = 0", 2, "whole number"},
        Case{"[[column]]\nindex = 2\nchannel = \"warp\"", 3, "unknown channel"},
        Case{"[[column]]\nindex = 2\nunit = \"stone\"", 3, "unknown unit"},
        Case{"[[column]]\nindex = 2\nchannel = \"power\"\nunit = \"psi\"", 4,
             "can't be in"},
        Case{"[[column]]\nindex = 2\nchannel = \"power\"\nunit = \"kVA\"", 4,
             "can't be in"},
        Case{"[[column]]\nindex = 2\nscale = 0", 3, "scale"},
        Case{"[[column]]\nindex = 2\nscale = inf", 3, "must be a number"},
        Case{"[[column]]\nindex = 2\noffset = \"1\"", 3, "must be a number"},
        Case{"[[column]]\nindex = 2\nmissing = \"x\"", 3, "list"},
        Case{"[[column]]\nindex = 2\nmissing = [1.5]", 3, "list"},
        Case{"[[column]]\nindex = 2\n\n[[column]]\nindex = 2", 4, "twice"},
        Case{"[[column]]\nindex = 2\nchannel = \"load\"\n\n[[column]]\nindex = "
             "3\nchannel = \"load\"",
             5, "two columns"},
        Case{"column = 5", 1, "list of tables"},
        Case{"delimiter = \",\"\ndecimal = \",\"", 0, "the same"},
        Case{"delimiter = \"", 1, ""}}) {
    INFO(c.text);
    const auto map = parse_map(c.text, "my.toml");
    REQUIRE_FALSE(map);
    INFO(map.error().line());
    CHECK(map.error().what.find(c.what) != std::string::npos);
    if (c.line > 0) {
      CHECK(map.error().where == fmt::format("my.toml:{}", c.line));
    }
  }
}

TEST_CASE("a log without header is read by a map") {
  std::string text;
  for (int s = 0; s < 30; ++s) {
    text += fmt::format("2026-06-15 08:00:{:02},779,14375,3274\n", s);
  }
  const TempFile map(R"toml(header_line = 0
time = { column = 1, format = "%Y-%m-%d %H:%M:%S" }
[[column]]
index = 2
channel = "engine_speed"
unit = "rpm"
[[column]]
index = 3
channel = "battery_voltage"
unit = "mV"
[[column]]
index = 4
channel = "coolant_temperature"
unit = "degC"
scale = 0.1
offset = -273.2
)toml",
                     ".toml");
  ReadOptions options;
  options.map_path = map.path();
  const auto read = read_log(text, options);
  REQUIRE(read.rows.size() == 30);
  CHECK(read.layout.header_line == 0);
  CHECK(read.value(0, Channel::battery_voltage) == Approx(14.375));
  CHECK(read.value(0, Channel::coolant_temperature) == Approx(54.2));
}

TEST_CASE("a map settles what a log leaves open") {
  std::string text = "time;EGT 1 (C);EGT 2 (C);temp;volts\n";
  for (int s = 0; s < 30; ++s) {
    text += fmt::format("05/06/2026 08:00:{:02};401;405;82;99\n", s);
  }
  const TempFile map(R"toml(
time = { column = 1, format = "%d/%m/%Y %H:%M:%S", timezone = "+02:00" }
[[column]]
header = "EGT 2 (C)"
channel = "exhaust_temperature"
[[column]]
header = "temp"
channel = "oil_temperature"
unit = "degC"
[[column]]
index = 5
channel = "ignore"
)toml",
                     ".toml");
  ReadOptions options;
  options.map_path = map.path();
  const auto read = read_log(text, options);
  CHECK(read.value(0, Channel::exhaust_temperature) == 405.0);
  CHECK(read.value(0, Channel::oil_temperature) == 82.0);
  CHECK(format_time(read.rows[0].logged, read.layout) ==
        "2026-06-05T06:00:00Z");
  CHECK(read.column(4).name.empty());
}

TEST_CASE("missing texts of a map are missing") {
  std::string text = "time,oil kPa\n";
  for (int s = 0; s < 30; ++s) {
    text +=
        fmt::format("2026-06-15 08:00:{:02},{}\n", s, s % 2 == 0 ? 255 : 300);
  }
  const TempFile map(
      "[[column]]\nindex = 2\nchannel = \"oil_pressure\"\n"
      "unit = \"kPa\"\nmissing = [\"255\"]\n",
      ".toml");
  ReadOptions options;
  options.map_path = map.path();
  const auto read = read_log(text, options);
  CHECK(read.rows[0].blank == bit(Channel::oil_pressure));
  CHECK(read.rows[1].present == bit(Channel::oil_pressure));
}

TEST_CASE("a map that does not fit the log is an error with its line") {
  const std::string text =
      "time,rpm\n2026-06-15 08:00:00,1800\n2026-06-15 08:00:01,1800\n";
  const auto error = [&](const std::string& map_text) {
    const TempFile map(map_text, ".toml");
    ReadOptions options;
    options.map_path = map.path();
    const Error found = test::open_error(text, options);
    INFO(found.line());
    CHECK_FALSE(found.remedy.empty());
    return found.where.substr(found.where.rfind(':'));
  };
  CHECK(error("\n[[column]]\nindex = 7\nchannel = \"load\"\n") == ":2");
  CHECK(error("time = { column = 9 }\n") == ":1");
  CHECK(error("time = { column = 2 }\n") == ":1");
  ReadOptions options;
  options.map_path = "/nowhere.toml";
  CHECK(test::open_error(text, options).where == "/nowhere.toml");
}

// Contract section 3 and the brief of --save-map: read back, the layout is the
// same; nothing is guessed.
TEST_CASE("a saved map read back gives the same layout") {
  const auto rows = test::made_up_rows(120);
  for (const auto time :
       {test::TimeStyle::iso_space, test::TimeStyle::two_columns,
        test::TimeStyle::month_first_12h, test::TimeStyle::epoch_ms,
        test::TimeStyle::elapsed_clock, test::TimeStyle::serial}) {
    for (const auto shape : {test::Shape::wide, test::Shape::long_format}) {
      test::Dialect dialect;
      dialect.time = time;
      dialect.shape = shape;
      dialect.delimiter = ';';
      dialect.decimal = ',';
      dialect.us_units = true;
      dialect.unknown_columns = shape == test::Shape::wide;
      dialect.preamble = shape == test::Shape::wide;
      const TempFile file(test::write_log(rows, dialect));
      auto log = Log::open(file.path(), {});
      if (!log) FAIL(log.error().line());
      const TempFile map(log->map(), ".toml");
      INFO(log->map());
      ReadOptions options;
      options.map_path = map.path();
      auto again = Log::open(file.path(), options);
      if (!again) FAIL(again.error().line());
      const LogLayout& a = log->layout();
      const LogLayout& b = again->layout();
      CHECK(a.delimiter == b.delimiter);
      CHECK(a.decimal == b.decimal);
      CHECK(a.encoding == b.encoding);
      CHECK(a.header_line == b.header_line);
      CHECK(a.time_format == b.time_format);
      CHECK(a.interval_s == b.interval_s);
      REQUIRE(a.columns.size() == b.columns.size());
      for (std::size_t i = 0; i < a.columns.size(); ++i) {
        INFO(a.columns[i].header);
        CHECK(a.columns[i].header == b.columns[i].header);
        CHECK(a.columns[i].name == b.columns[i].name);
        CHECK(a.columns[i].unit == b.columns[i].unit);
      }
      CHECK(again->map().size() > 200);
    }
  }
}

TEST_CASE("a unit that needs a scale survives the map") {
  std::string text = "time,Oil Press (kgf/cm2)\n";
  for (int s = 0; s < 30; ++s) {
    text += fmt::format("2026-06-15 08:00:{:02},4.0\n", s);
  }
  const TempFile file(text);
  auto log = Log::open(file.path(), {});
  REQUIRE(log);
  const TempFile map(log->map(), ".toml");
  ReadOptions options;
  options.map_path = map.path();
  const auto read = read_log(text, options);
  // 98.0665 kPa a technical atmosphere, exact.
  CHECK(read.value(0, Channel::oil_pressure) == Approx(392.266));
}

TEST_CASE("a draft map names each column of a log without header") {
  std::string text;
  for (int s = 0; s < 30; ++s) {
    text += fmt::format("15.06.2026 08:00:{:02};779;14375\n", s);
  }
  const TempFile file(text);
  const auto draft = Log::draft_map(**ByteStore::open(file.path()));
  if (!draft) FAIL(draft.error().line());
  INFO(*draft);
  CHECK(draft->find("format = \"%d.%m.%Y %H:%M:%S\"") != std::string::npos);
  CHECK(draft->find("index = 3") != std::string::npos);
  CHECK(parse_map(*draft, "draft"));
}

}  // namespace
}  // namespace telltale::host
