#include "simulate/stamp.hpp"

#include "catch.hpp"

namespace telltale::host::sim {
namespace {

// GNU date 9.1: date -u -d @1780300800.25 -> 2026-06-01 08:00:00.25;
// date -u -d @951825599 -> 2000-02-29 11:59:59 (a leap day);
// date -u -d @-1 -> 1969-12-31 23:59:59.
constexpr TimeMs kMorning{1780300800250};
constexpr TimeMs kLeapDay{951825599000};

std::string spelled(TimeStyle style, TimeMs stamp, int decimals = 0,
                    int offset_min = 0, TimeMs first = TimeMs{0}) {
  std::string out;
  StampWriter(style, offset_min, first, decimals, ',').append(out, stamp);
  return out;
}

TEST_CASE("every style spells the same moment") {
  using enum TimeStyle;
  CHECK(spelled(iso, kMorning) == "2026-06-01 08:00:00");
  CHECK(spelled(iso, kMorning, 3) == "2026-06-01 08:00:00.250");
  CHECK(spelled(iso_utc, kMorning) == "2026-06-01T08:00:00Z");
  CHECK(spelled(iso_offset, kMorning, 0, 120) == "2026-06-01T10:00:00+02:00");
  CHECK(spelled(iso_offset, kMorning, 0, -210) == "2026-06-01T04:30:00-03:30");
  CHECK(spelled(epoch_s, kMorning) == "1780300800");
  CHECK(spelled(epoch_s, kMorning, 1) == "1780300800.2");
  CHECK(spelled(epoch_ms, kMorning) == "1780300800250");
  CHECK(spelled(day_first, kMorning) == "01.06.2026 08:00:00");
  CHECK(spelled(month_first, kMorning) == "06/01/2026 08:00:00");
  CHECK(spelled(two_columns, kMorning) == "2026-06-01,08:00:00");
  CHECK(spelled(iso, kLeapDay) == "2000-02-29 11:59:59");
  CHECK(spelled(iso, TimeMs{-1000}) == "1969-12-31 23:59:59");
}

TEST_CASE("the twelve-hour clock has no hour 0 and no hour 13") {
  const auto at = [](int hour) {
    return spelled(TimeStyle::twelve_hour,
                   TimeMs{1780272000000 + hour * 3600000LL});
  };
  CHECK(at(0) == "06/01/2026 12:00:00 AM");
  CHECK(at(1) == "06/01/2026 01:00:00 AM");
  CHECK(at(11) == "06/01/2026 11:00:00 AM");
  CHECK(at(12) == "06/01/2026 12:00:00 PM");
  CHECK(at(13) == "06/01/2026 01:00:00 PM");
  CHECK(at(23) == "06/01/2026 11:00:00 PM");
}

TEST_CASE("elapsed time counts from the first row, backwards too") {
  using enum TimeStyle;
  const TimeMs first{1780300800000};
  CHECK(spelled(elapsed_s, first, 0, 0, first) == "0");
  CHECK(spelled(elapsed_s, TimeMs{first.ms + 93200}, 1, 0, first) == "93.2");
  CHECK(spelled(elapsed_hms, TimeMs{first.ms + 3723000}, 0, 0, first) ==
        "1:02:03");
  CHECK(spelled(elapsed_hms, TimeMs{first.ms + 360000000}, 0, 0, first) ==
        "100:00:00");
  CHECK(spelled(elapsed_s, TimeMs{first.ms - 60000}, 0, 0, first) == "-60");
  std::string comma;
  StampWriter(elapsed_s, 0, first, 1, ';', ',')
      .append(comma, TimeMs{first.ms + 500});
  CHECK(comma == "0,5");
}

TEST_CASE("reports give UTC where the zone is known, else the log's clock") {
  LogFormat format;
  const TimeMs first{kMorning.ms - 123500};
  format.time = TimeStyle::iso_offset;
  format.utc_offset_min = 120;
  CHECK(report_time(format, kMorning, first) == "2026-06-01T08:00:00.250Z");
  format.time = TimeStyle::day_first;
  CHECK(report_time(format, kMorning, first) == "2026-06-01T10:00:00.250");
  format.utc_offset_min = 0;
  CHECK(report_time(format, TimeMs{1780300800000}, first) ==
        "2026-06-01T08:00:00");
  format.time = TimeStyle::elapsed_s;
  CHECK(report_time(format, kMorning, first) == "t+123.500");
  CHECK(report_time(format, TimeMs{first.ms + 7000}, first) == "t+7.0");
}

TEST_CASE("a start is read and anything else refused") {
  CHECK(parse_stamp("2026-06-01T08:00:00Z") == TimeMs{1780300800000});
  CHECK(parse_stamp("2026-06-01 08:00:00") == TimeMs{1780300800000});
  CHECK(parse_stamp("2000-02-29T11:59:59") == kLeapDay);
  for (const char* bad :
       {"", "2026-06-01", "2026-13-01 00:00:00", "2025-02-29 00:00:00",
        "2026-06-01 24:00:00", "2026-06-01x08:00:00", "2026-06-01 08:00:0",
        "20260601 08:00:0000"}) {
    INFO(bad);
    CHECK_FALSE(parse_stamp(bad));
  }
}

}  // namespace
}  // namespace telltale::host::sim
