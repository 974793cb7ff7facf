#include "ingest/stamp_format.hpp"

#include <fmt/format.h>

#include <string>

#include "catch.hpp"

namespace telltale::host {
namespace {

std::optional<Stamp> read_as(std::string_view pattern, std::string_view text) {
  const auto format = StampFormat::compile(pattern);
  REQUIRE(format);
  Stamp stamp;
  if (!format->parse(text, stamp)) return std::nullopt;
  return stamp;
}

std::optional<Stamp> read_guessed(std::string_view text) {
  const auto patterns = guess_patterns(text, false);
  if (patterns.empty()) return std::nullopt;
  return read_as(patterns.front(), text);
}

// GNU date 9.1 (`date -u -d STRING +%s`) and Python 3.11 datetime; the RFC
// 3339 lines are the examples of its section 5.8.
TEST_CASE("ISO stamps give the seconds that GNU date gives") {
  struct Case {
    const char* text;
    std::int64_t ms;
  };
  for (const Case& c :
       {Case{"1970-01-01T00:00:00Z", 0}, Case{"1969-12-31T23:59:59Z", -1000},
        Case{"1985-04-12T23:20:50.52Z", 482196050520},
        Case{"1996-12-19T16:39:57-08:00", 851042397000},
        Case{"1996-12-20T00:39:57Z", 851042397000},
        Case{"1937-01-01T12:00:27.87+00:20", -1041337172130},
        Case{"1990-12-31T15:59:59-08:00", 662687999000},
        Case{"2000-02-29T12:34:56Z", 951827696000},
        Case{"1900-03-01T00:00:00Z", -2203891200000},
        Case{"2024-02-29T23:59:59Z", 1709251199000},
        Case{"2024-03-01T00:00:00Z", 1709251200000},
        Case{"2038-01-19T03:14:07Z", 2147483647000},
        Case{"2038-01-19T03:14:08Z", 2147483648000},
        Case{"2100-02-28T23:59:59Z", 4107542399000},
        Case{"2100-03-01T00:00:00Z", 4107542400000},
        Case{"0001-01-01T00:00:00Z", -62135596800000},
        Case{"9999-12-31T23:59:59Z", 253402300799000},
        Case{"2025-01-01T00:00:00+05:30", 1735669800000},
        // Daylight saving: both are the same wall clock.
        Case{"2023-10-29T02:30:00+02:00", 1698539400000},
        Case{"2023-10-29T02:30:00+01:00", 1698543000000}}) {
    INFO(c.text);
    const auto stamp = read_guessed(c.text);
    REQUIRE(stamp);
    CHECK(stamp->ms == c.ms);
    CHECK(stamp->has_zone);
  }
}

TEST_CASE("a fraction is cut at the millisecond, never rounded up") {
  CHECK(read_guessed("2024-12-31T23:59:59.999999999Z")->ms == 1735689599999);
  CHECK(read_guessed("2024-12-31 23:59:59,5")->ms == 1735689599500);
}

// GNU date and Python refuse it; here it is the second after.
TEST_CASE("a leap second counts as the second after") {
  CHECK(read_guessed("1990-12-31T23:59:60Z")->ms == 662688000000);
  CHECK_FALSE(read_as("%Y-%m-%dT%H:%M:%S", "1990-12-31T23:59:61"));
}

TEST_CASE("ISO 8601 midnight at the end of a day is the next day's start") {
  CHECK(read_guessed("2024-12-31T24:00:00Z")->ms == 1735689600000);
  CHECK_FALSE(read_as("%H:%M:%S", "24:00:01"));
}

TEST_CASE("what is no date is refused") {
  for (const char* text :
       {"2023-02-29 00:00:00", "2024-02-30 00:00:00", "2100-02-29 00:00:00",
        "2024-13-01 00:00:00", "2024-01-01 25:00:00", "2024-01-01 00:60:00",
        "2024-01-01T00:00:00+24:00", "2024-01-01T00:00:00+01:60",
        "2024-01-01 00:00:00 Mars", "2024-01", "hello", "", "12.5", "1,234",
        "4711", "1.2.3.4", "2026-06-01T08:00:00ZZ"}) {
    INFO(text);
    CHECK_FALSE(read_guessed(text));
  }
}

TEST_CASE("stamps of many habits are read") {
  struct Case {
    const char* text;
    const char* pattern;
    std::int64_t ms;
  };
  constexpr std::int64_t kJune1 = 1780300800000;  // 2026-06-01T08:00:00Z
  for (const Case& c :
       {Case{"2026-06-01 08:00:00", "%Y-%m-%d %H:%M:%S", kJune1},
        Case{"2026/06/01 08:00", "%Y/%m/%d %H:%M", kJune1},
        Case{"2026.06.01 08:00:00", "%Y.%m.%d %H:%M:%S", kJune1},
        Case{"01.06.2026 08:00:00", "%d.%m.%Y %H:%M:%S", kJune1},
        Case{"1.6.2026 8:00", "%d.%m.%Y %H:%M", kJune1},
        Case{"01.06.26 08:00", "%d.%m.%y %H:%M", kJune1},
        Case{"01/06/2026, 08:00:00", "%d/%m/%Y, %H:%M:%S", kJune1},
        Case{"1-Jun-2026 08:00:00", "%d-%b-%Y %H:%M:%S", kJune1},
        Case{"01 June 2026 08:00", "%d %b %Y %H:%M", kJune1},
        Case{"1. Juni 2026 08:00", "%d. %b %Y %H:%M", kJune1},
        Case{"1 juin 2026 08:00", "%d %b %Y %H:%M", kJune1},
        Case{"Jun 1, 2026 8:00:00 AM", "%b %d, %Y %I:%M:%S %p", kJune1},
        Case{"Mon Jun  1 08:00:00 2026", "%a %b %d %H:%M:%S %Y", kJune1},
        Case{"Mon, 01 Jun 2026 08:00:00 +0000", "%a, %d %b %Y %H:%M:%S %z",
             kJune1},
        Case{"Mo 01.06.2026 08:00", "%a %d.%m.%Y %H:%M", kJune1},
        Case{"08:00:00 01/06/2026", "%H:%M:%S %d/%m/%Y", kJune1},
        Case{"2026-06-01T080000Z", "%Y-%m-%dT%H%M%S%z", kJune1},
        Case{"20260601T080000Z", "%Y%m%dT%H%M%S%z", kJune1},
        Case{"20260601 080000", "%Y%m%d %H%M%S", kJune1},
        Case{"20260601-08:00:00", "%Y%m%d-%H:%M:%S", kJune1},
        Case{"2026-06-01_08-00-00", "%Y-%m-%d_%H-%M-%S", kJune1},
        Case{"2026-06-01 08.00.00", "%Y-%m-%d %H.%M.%S", kJune1},
        Case{"2026-06-01 08h00m00s", "%Y-%m-%d %Hh%Mm%Ss", kJune1},
        Case{"2026-06-01 10:00:00+02", "%Y-%m-%d %H:%M:%S%z", kJune1},
        Case{"2026-06-01 10:00:00 CEST", "%Y-%m-%d %H:%M:%S %z", kJune1},
        Case{"2026-06-01 04:00:00 EDT", "%Y-%m-%d %H:%M:%S %z", kJune1},
        Case{"2026-06-01 08:00:00 UTC", "%Y-%m-%d %H:%M:%S %z", kJune1},
        Case{"6/1/2026 8:00:00 a.m.", "", kJune1},
        Case{"2026-06-01 08:00:00:250", "%Y-%m-%d %H:%M:%S:%f",
             kJune1 + 250}}) {
    INFO(c.text);
    const auto patterns = guess_patterns(c.text, false);
    REQUIRE_FALSE(patterns.empty());
    if (*c.pattern != '\0') {
      CHECK(patterns.front() == c.pattern);
      CHECK(read_as(patterns.front(), c.text)->ms == c.ms);
    }
  }
}

TEST_CASE("the twelve-hour clock turns over at twelve") {
  CHECK(read_as("%I:%M %p", "12:00 AM")->ms == 0);
  CHECK(read_as("%I:%M %p", "12:30 PM")->ms == 45000000);
  CHECK(read_as("%I:%M %p", "01:00 pm")->ms == 46800000);
  CHECK(read_as("%I:%M%p", "1:00p.m.")->ms == 46800000);
  CHECK_FALSE(read_as("%I:%M %p", "13:00 PM"));
  CHECK_FALSE(read_as("%I:%M %p", "00:00 AM"));
}

// POSIX strptime: 69..99 are of the last century.
TEST_CASE("two-digit years pivot at 69") {
  CHECK(read_as("%d.%m.%y %H:%M", "01.01.69 00:00")->ms == -31536000000);
  CHECK(read_as("%d.%m.%y %H:%M", "01.01.68 00:00")->ms == 3092601600000);
}

TEST_CASE("an open order of day and month gives several patterns") {
  CHECK(guess_patterns("05/06/2026 08:00", false).size() == 2);
  CHECK(guess_patterns("13/06/2026 08:00", false).size() == 1);
  CHECK(guess_patterns("06/13/2026 08:00", false).size() == 1);
  CHECK(guess_patterns("05-06-07 08:00", false).size() == 3);
}

TEST_CASE("digits alone are stamps only where they are asked for") {
  CHECK(guess_patterns("20260601080000", false).empty());
  CHECK(guess_patterns("20260601080000", true).front() == "%Y%m%d%H%M%S");
  CHECK(guess_patterns("20260601", true).front() == "%Y%m%d");
}

TEST_CASE("zones are offsets or well-known letters") {
  CHECK(parse_zone("Z") == 0);
  CHECK(parse_zone("+01:00") == 60);
  CHECK(parse_zone("-0530") == -330);
  CHECK(parse_zone("UTC+2") == 120);
  CHECK(parse_zone("GMT-05:00") == -300);
  CHECK(parse_zone("(UTC)") == 0);
  CHECK_FALSE(parse_zone("+24:00"));
  CHECK_FALSE(parse_zone("05:00"));
  CHECK_FALSE(parse_zone("XYZ"));
  CHECK_FALSE(parse_zone(""));
  CHECK_FALSE(parse_zone("psi"));
}

TEST_CASE("impossible patterns do not compile") {
  for (const char* pattern : {"", "%", "%Q", "%Y-%m", "%d", "words", "%M:%S"}) {
    INFO(pattern);
    CHECK_FALSE(StampFormat::compile(pattern));
  }
  CHECK(StampFormat::compile("%d.%m.%Y %T"));
}

}  // namespace
}  // namespace telltale::host
