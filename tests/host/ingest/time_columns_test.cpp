#include "ingest/time_columns.hpp"

#include <fmt/format.h>

#include <string>

#include "catch.hpp"
#include "read_log.hpp"

namespace telltale::host {
namespace {

// The time format of a log of these headers and of three rows of cells.
std::string format_of(const std::string& header, const std::string& a,
                      const std::string& b, const std::string& c) {
  const std::string text =
      header + ";rpm\n" + a + ";1800\n" + b + ";1801\n" + c + ";1800\n";
  const test::TempFile file(text);
  const auto log = Log::open(file.path(), {});
  return log ? log->layout().time_format : log.error().what;
}

TEST_CASE("counts are told apart by their size and their headers") {
  CHECK(format_of("timestamp", "1780300800", "1780300801", "1780300802") ==
        "seconds since 1970, UTC");
  CHECK(format_of("ts", "1780300800000", "1780300801000", "1780300802000") ==
        "milliseconds since 1970, UTC");
  CHECK(format_of("ts", "1780300800000000", "1780300801000000",
                  "1780300802000000") == "microseconds since 1970, UTC");
  CHECK(format_of("Date", "46174.33333", "46174.33334", "46174.33336") ==
        "spreadsheet day numbers, no zone");
  CHECK(format_of("Time (s)", "0", "1", "2") == "elapsed seconds");
  CHECK(format_of("Time (ms)", "0", "100", "200") == "elapsed milliseconds");
  CHECK(format_of("time_ms", "0", "100", "200") == "elapsed milliseconds");
  CHECK(format_of("Elapsed min", "0", "0.5", "1") == "elapsed minutes");
  CHECK(format_of("t", "0", "0.1", "0.2") == "elapsed seconds");
  CHECK(format_of("time", "0", "200", "400") == "elapsed milliseconds");
  CHECK(format_of("time", "0", "60", "120") == "elapsed seconds");
  CHECK(format_of("timestamp", "20260601080000", "20260601080001",
                  "20260601080002") == "YYYYMMDDhhmmss, no zone");
}

TEST_CASE("of several times the fullest counts") {
  CHECK(format_of("Elapsed;Time", "0;2026-06-01 08:00:00",
                  "1;2026-06-01 08:00:01",
                  "2;2026-06-01 08:00:02") == "YYYY-MM-DD hh:mm:ss, no zone");
  CHECK(format_of("Time;Date", "08:00:00;2026-06-01", "08:00:01;2026-06-01",
                  "08:00:02;2026-06-01") == "YYYY-MM-DD and hh:mm:ss, no zone");
  CHECK(format_of("Last start;Logged",
                  "2026-05-01 08:00:00;2026-06-01 08:00:00",
                  "2026-05-01 08:00:00;2026-06-01 08:00:01",
                  "2026-05-01 08:00:00;2026-06-01 08:00:02") ==
        "YYYY-MM-DD hh:mm:ss, no zone");
}

TEST_CASE("numbers that only look like time are none") {
  CHECK(format_of("Serial", "1780300800", "1780300800", "1780300800")
            .find("no column tells the time") == std::string::npos);
  CHECK(format_of("Hour", "5", "6", "7").find("no column tells the time") !=
        std::string::npos);
  CHECK(format_of("Record", "1", "2", "3").find("no column tells the time") !=
        std::string::npos);
}

}  // namespace
}  // namespace telltale::host
