#include "ingest/stamp_reader.hpp"

#include <fmt/format.h>

#include <random>
#include <string>
#include <vector>

#include "catch.hpp"
#include "ingest/log.hpp"

namespace telltale::host {
namespace {

StampReader reader_of(std::string_view format, char decimal = '.') {
  const auto style = stamp_style_named(format);
  REQUIRE(style);
  auto reader = StampReader::of(*style, decimal);
  REQUIRE(reader);
  return *reader;
}

std::optional<std::int64_t> read(StampReader& reader, std::string_view text) {
  std::int64_t ms = 0;
  bool zone = false;
  return reader.read(text, ms, zone) ? std::optional(ms) : std::nullopt;
}

// The fast way must agree with the plain parser on whatever it is given:
// stamps that run on, leap, change their shape, or are damaged.
TEST_CASE("fast and plain reading of stamps agree") {
  std::mt19937 random(5);
  for (const char* format :
       {"%Y-%m-%dT%H:%M:%S", "%d.%m.%Y %H:%M:%S", "%Y-%m-%d %H:%M:%S%z",
        "%H:%M:%S", "%I:%M:%S %p", "%H:%M:%S %d/%m/%Y", "%Y-%m-%d %H:%M:%S:%f",
        "%Y%m%d%H%M%S", "%Y-%m-%d"}) {
    StampReader fast = reader_of(format);
    const StampReader plain = reader_of(format);
    const auto pattern = StampFormat::compile(format);
    std::string last;
    for (int i = 0; i < 20000; ++i) {
      std::string text = format;
      const auto put = [&](const char* what, const std::string& with) {
        const std::size_t at = text.find(what);
        if (at != std::string::npos) text.replace(at, 2, with);
      };
      const bool wild = random() % 40 == 0;
      put("%Y", fmt::format("{:04}", wild ? random() % 10000 : 2026));
      put("%m", fmt::format("{:02}", 1 + random() % (wild ? 14 : 2)));
      put("%d", fmt::format("{:02}", 1 + random() % (wild ? 33 : 2)));
      put("%H", fmt::format("{:02}", random() % (wild ? 26 : 24)));
      put("%I", fmt::format("{:02}", random() % 14));
      put("%M", fmt::format("{:02}", random() % (wild ? 62 : 60)));
      std::string second = fmt::format("{:02}", random() % (wild ? 63 : 60));
      if (random() % 3 == 0 && text.find("%f") == std::string::npos &&
          text.find("%Y%m") == std::string::npos) {
        second += fmt::format(".{}", random() % 100000);
      }
      put("%S", second);
      put("%f", fmt::format("{:03}", random() % 1000));
      put("%p", random() % 2 == 0 ? "AM" : "PM");
      put("%z", random() % 2 == 0 ? "Z" : "+02:00");
      if (random() % 50 == 0 && !text.empty()) {
        text[random() % text.size()] = static_cast<char>(random() % 256);
      }
      if (random() % 60 == 0) text.resize(random() % (text.size() + 1));
      std::int64_t a = 0;
      std::int64_t b = 0;
      bool zone_a = false;
      bool zone_b = false;
      const bool got_a = fast.read(text, a, zone_a);
      const bool got_b = plain.read_plainly(text, b, zone_b);
      INFO(format << ": \"" << text << "\" after \"" << last << "\"");
      REQUIRE(got_a == got_b);
      if (got_a) {
        REQUIRE(a == b);
        REQUIRE(zone_a == zone_b);
      }
      last = text;
    }
  }
}

TEST_CASE("counts since 1970 are read in their unit") {
  auto s = reader_of("epoch s");
  CHECK(read(s, "1780300800") == 1780300800000);
  CHECK(read(s, "1780300800.25") == 1780300800250);
  CHECK(read(s, "0") == 0);
  CHECK(read(s, "4294967295") == 4294967295000);  // 2106
  CHECK_FALSE(read(s, "1e300"));
  CHECK_FALSE(read(s, "-1e15"));
  CHECK_FALSE(read(s, ""));
  auto ms = reader_of("epoch ms");
  CHECK(read(ms, "1780300800123") == 1780300800123);
  auto us = reader_of("epoch us");
  CHECK(read(us, "1780300800123456") == 1780300800123);
}

// A spreadsheet's day 45000 is 2023-03-15 (its own DATEVALUE); 0.5 is noon.
TEST_CASE("a spreadsheet's day numbers are days since 1899-12-30") {
  auto serial = reader_of("serial days");
  CHECK(read(serial, "45000") == 1678838400000);
  CHECK(read(serial, "45000.5") == 1678881600000);
  auto comma = reader_of("serial days", ',');
  CHECK(read(comma, "45000,5") == 1678881600000);
}

TEST_CASE("elapsed time is read as clock and as count") {
  CHECK(parse_elapsed("0:00:05") == 5000);
  CHECK(parse_elapsed("125:03:07") == 450187000);
  CHECK(parse_elapsed("1:05") == 3900000);
  CHECK(parse_elapsed("1:05.5") == 65500);
  CHECK(parse_elapsed("1d 02:03:04") == 93784000);
  CHECK(parse_elapsed("5 days 04:46:56.000000000") == 449216000);
  CHECK(parse_elapsed("0 days 00:20:00.000000000") == 1200000);
  CHECK(parse_elapsed("-0:00:05") == -5000);
  CHECK_FALSE(parse_elapsed("5"));
  CHECK_FALSE(parse_elapsed("1:60:00"));
  CHECK_FALSE(parse_elapsed("1:2:3:4"));
  CHECK_FALSE(parse_elapsed("1.5"));
  CHECK_FALSE(parse_elapsed("x:00"));
  auto hours = reader_of("elapsed h");
  CHECK(read(hours, "1.5") == 5400000);
}

TEST_CASE("styles keep their names") {
  for (const char* name :
       {"epoch s", "epoch ms", "epoch us", "epoch ns", "elapsed s",
        "elapsed ms", "elapsed min", "elapsed h", "elapsed h:mm:ss",
        "serial days", "%d.%m.%Y %H:%M:%S"}) {
    CHECK(name_of(*stamp_style_named(name)) == name);
  }
  CHECK_FALSE(stamp_style_named("fortnights"));
}

}  // namespace
}  // namespace telltale::host
