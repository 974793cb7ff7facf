// Properties of the reading layer on generated input (RapidCheck).
#include <rapidcheck.h>

#include <algorithm>
#include <cmath>
#include <string>
#include <vector>

#include "catch.hpp"
#include "ingest/csv_source.hpp"
#include "ingest/log.hpp"
#include "ingest/stamp_format.hpp"
#include "ingest/time_order.hpp"
#include "support/civil_time.hpp"
#include "support/number.hpp"
#include "temp_file.hpp"

namespace telltale::host {
namespace {

// A cell's text as RFC 4180 writes it.
std::string quoted(const std::string& text) {
  std::string out = "\"";
  for (char c : text) {
    if (c == '"') out += '"';
    out += c;
  }
  return out + "\"";
}

rc::Gen<std::string> cell_text() {
  return rc::gen::container<std::string>(
      rc::gen::elementOf(std::string("ab1.,;\"\n|x")));
}

TEST_CASE("written cells come back, whatever is in them") {
  CHECK(rc::check("quoted cells", [] {
    const auto rows = *rc::gen::nonEmpty(
        rc::gen::container<std::vector<std::vector<std::string>>>(
            rc::gen::container<std::vector<std::string>>(3, cell_text())));
    std::string text;
    for (const auto& row : rows) {
      text +=
          quoted(row[0]) + "," + quoted(row[1]) + "," + quoted(row[2]) + "\n";
    }
    const auto store = ByteStore::of_memory(text, "memory");
    CsvSource source(store->cursor(), {}, ',');
    Record record;
    std::vector<Cell> cells;
    for (const auto& row : rows) {
      RC_ASSERT(source.next(record));
      cut_cells(record, ',', cells);
      unquote_cells(record, cells);
      RC_ASSERT(cells.size() == 3U);
      for (std::size_t i = 0; i < 3; ++i) RC_ASSERT(cells[i] == row[i]);
    }
    RC_ASSERT(!source.next(record));
  }));
}

TEST_CASE("printed numbers come back to the bit") {
  CHECK(rc::check("numbers", [](double value) {
    RC_PRE(std::isfinite(value));
    char text[64];
    std::snprintf(text, sizeof text, "%.17g", value);
    RC_ASSERT(parse_number(text) == value);
    std::string comma = text;
    std::replace(comma.begin(), comma.end(), '.', ',');
    RC_ASSERT(parse_number(comma, ',') == value);
  }));
}

TEST_CASE("printed stamps come back to the millisecond") {
  CHECK(rc::check("stamps", [] {
    const auto ms = *rc::gen::inRange<std::int64_t>(
        days_from_civil(1, 1, 2) * kMsPerDay,
        days_from_civil(9999, 12, 31) * kMsPerDay);
    LogLayout layout;
    layout.zone_known = true;
    const std::string text = format_time(TimeMs{ms}, layout);
    const auto patterns = guess_patterns(text, false);
    RC_ASSERT(patterns.size() == 1U);
    Stamp stamp;
    RC_ASSERT(StampFormat::compile(patterns[0])->parse(text, stamp));
    RC_ASSERT(stamp.ms == ms);
    RC_ASSERT(stamp.has_zone);
  }));
}

TEST_CASE("whatever the stamps, rows go somewhere and time does not fall") {
  CHECK(rc::check("time order", [] {
    const auto steps = *rc::gen::container<std::vector<int>>(rc::gen::oneOf(
        rc::gen::just(1000), rc::gen::just(0), rc::gen::inRange(-90000, 90000),
        rc::gen::inRange(-4000000, 4000000)));
    const auto interval = *rc::gen::element(20, 1000, 60000);
    TimeOrder order({DurationMs{interval}, DurationMs{interval}});
    std::size_t out = 0;
    std::size_t dropped = 0;
    TimeMs last = kNoTime;
    Row row;
    const auto drain = [&] {
      while (order.pop(row)) {
        ++out;
        RC_ASSERT(row.at >= last);
        last = row.at;
      }
      dropped += order.take_dropped().size();
    };
    std::int64_t at = 1780300800000;
    std::uint64_t line = 0;
    for (const int step : steps) {
      at += step;
      Row next;
      next.logged = TimeMs{at};
      next.line = ++line;
      order.push(next, "", line, 1);
      drain();
    }
    order.finish();
    drain();
    RC_ASSERT(out + dropped == steps.size());
  }));
}

// Any text at all: every line is booked, nothing else.
TEST_CASE("lines of any text are all accounted for") {
  CHECK(rc::check("tally", [] {
    const auto middle = *rc::gen::container<std::string>(
        rc::gen::elementOf(std::string("0123456789,;\n\"-: .x\r")));
    std::string text = "time,rpm,oil kPa\n";
    for (int s = 10; s < 40; ++s) {
      text += "2026-06-15 08:00:" + std::to_string(s) + ",1800,300\n";
    }
    text += middle;
    const test::TempFile file(text);
    auto log = Log::open(file.path(), {});
    if (!log) return;
    auto reader = log->rows();
    Row row;
    while (reader->next(row)) {
    }
    const RowTally& tally = reader->tally();
    RC_ASSERT(tally.accepted + tally.rejected + tally.skipped == tally.lines);
    // Line ends: LF, CR with or without LF, and an end without one.
    std::uint64_t lines = 0;
    for (std::size_t i = 0; i < text.size(); ++i) {
      if (text[i] == '\n') ++lines;
      if (text[i] == '\r') {
        const std::size_t after = text.find_first_not_of('\r', i);
        lines += after == std::string::npos || text[after] != '\n';
      }
    }
    lines += text.back() != '\n' && text.back() != '\r';
    RC_ASSERT(tally.lines == lines);
  }));
}

}  // namespace
}  // namespace telltale::host
