// The same rows, written in many ways, read the same.
#include <cmath>
#include <string>
#include <vector>

#include "catch.hpp"
#include "ingest/log.hpp"
#include "log_writer.hpp"
#include "temp_file.hpp"

namespace telltale::host {
namespace {

using test::Dialect;
using test::Ending;
using test::NameStyle;
using test::Shape;
using test::TimeStyle;
using test::UnitPlace;
using test::WideEncoding;

Dialect named(std::string name, auto&& change) {
  Dialect d;
  d.name = std::move(name);
  change(d);
  return d;
}

std::vector<Dialect> dialects() {
  using D = Dialect;
  std::vector<Dialect> all;
  const auto add = [&](std::string name, auto&& change) {
    all.push_back(named(std::move(name), change));
  };
  add("plain", [](D&) {});
  add("semicolon, decimal comma", [](D& d) {
    d.delimiter = ';';
    d.decimal = ',';
  });
  add("tab, decimal comma", [](D& d) {
    d.delimiter = '\t';
    d.decimal = ',';
  });
  add("pipe", [](D& d) { d.delimiter = '|'; });
  add("pipe, decimal comma, padded", [](D& d) {
    d.delimiter = '|';
    d.decimal = ',';
    d.padded = true;
  });
  add("comma, decimal comma in quotes", [](D& d) {
    d.decimal = ',';
    d.quote_all = true;
  });
  add("all quoted", [](D& d) { d.quote_all = true; });
  add("padded", [](D& d) { d.padded = true; });
  add("trailing delimiter", [](D& d) { d.trailing_delimiter = true; });
  add("shuffled columns", [](D& d) { d.shuffled_columns = true; });
  add("unknown columns", [](D& d) { d.unknown_columns = true; });
  add("line breaks in cells", [](D& d) { d.embedded_line_breaks = true; });
  add("preamble", [](D& d) { d.preamble = true; });
  add("preamble, unit row", [](D& d) {
    d.preamble = true;
    d.units = UnitPlace::unit_row;
  });
  add("unit row, repeated headers", [](D& d) {
    d.units = UnitPlace::unit_row;
    d.repeat_header = true;
  });
  add("repeated headers", [](D& d) { d.repeat_header = true; });
  add("no final line end", [](D& d) { d.final_line_end = false; });
  for (const char* blank : {"N/A", "---", "NaN", "null", "-", "OPEN", "ERR",
                            "#N/A", "?", "inf", "OL", "--.-"}) {
    add(std::string("blank is ") + blank, [&](D& d) { d.blank = blank; });
  }
  add("CRLF", [](D& d) { d.ending = Ending::crlf; });
  add("CR", [](D& d) { d.ending = Ending::cr; });
  add("CR CR CR LF", [](D& d) { d.ending = Ending::cr_cr_cr_lf; });
  add("CRLF, line breaks in cells", [](D& d) {
    d.ending = Ending::crlf;
    d.embedded_line_breaks = true;
  });
  add("byte-order mark", [](D& d) { d.encoding = WideEncoding::utf8_bom; });
  add("UTF-16 little-endian", [](D& d) { d.encoding = WideEncoding::utf16le; });
  add("UTF-16 big-endian, CRLF", [](D& d) {
    d.encoding = WideEncoding::utf16be;
    d.ending = Ending::crlf;
  });
  add("Latin-1", [](D& d) { d.encoding = WideEncoding::latin1; });
  add("US units", [](D& d) { d.us_units = true; });
  add("US units, brackets, month first", [](D& d) {
    d.us_units = true;
    d.names = NameStyle::brackets;
    d.time = TimeStyle::month_first_12h;
  });
  add("US units, snake", [](D& d) {
    d.us_units = true;
    d.names = NameStyle::snake;
  });
  add("snake", [](D& d) { d.names = NameStyle::snake; });
  add("camel", [](D& d) { d.names = NameStyle::camel; });
  add("slash", [](D& d) { d.names = NameStyle::slash; });
  add("US units, slash", [](D& d) {
    d.us_units = true;
    d.names = NameStyle::slash;
  });
  add("German", [](D& d) {
    d.names = NameStyle::german;
    d.delimiter = ';';
    d.decimal = ',';
    d.time = TimeStyle::day_first_dots;
  });
  add("German, Latin-1, two columns", [](D& d) {
    d.names = NameStyle::german;
    d.delimiter = ';';
    d.decimal = ',';
    d.time = TimeStyle::two_columns;
    d.encoding = WideEncoding::latin1;
    d.ending = Ending::crlf;
  });
  add("units in cells", [](D& d) { d.units = UnitPlace::cells; });
  add("US units in cells", [](D& d) {
    d.units = UnitPlace::cells;
    d.us_units = true;
  });
  add("no units, metric", [](D& d) { d.units = UnitPlace::none; });
  add("no units, US", [](D& d) {
    d.units = UnitPlace::none;
    d.us_units = true;
  });
  for (const auto& [name, style] :
       {std::pair{"ISO with Z", TimeStyle::iso_z},
        {"ISO with zone", TimeStyle::iso_zone},
        {"ISO with fraction", TimeStyle::iso_fraction},
        {"epoch seconds", TimeStyle::epoch_s},
        {"epoch milliseconds", TimeStyle::epoch_ms},
        {"epoch with fraction", TimeStyle::epoch_fraction},
        {"day first", TimeStyle::day_first_slash},
        {"month first, 12 h", TimeStyle::month_first_12h},
        {"month by name", TimeStyle::month_name},
        {"compact", TimeStyle::compact},
        {"two columns", TimeStyle::two_columns},
        {"two columns, 12 h", TimeStyle::two_columns_12h},
        {"day numbers", TimeStyle::serial},
        {"elapsed seconds", TimeStyle::elapsed_s},
        {"elapsed clock", TimeStyle::elapsed_clock}}) {
    add(name, [style = style](D& d) { d.time = style; });
  }
  add("gzip", [](D& d) { d.gzip = true; });
  add("gzip, UTF-16", [](D& d) {
    d.gzip = true;
    d.encoding = WideEncoding::utf16le;
  });
  add("one reading a row", [](D& d) { d.shape = Shape::long_format; });
  add("one reading a row, US units, semicolon", [](D& d) {
    d.shape = Shape::long_format;
    d.delimiter = ';';
    d.decimal = ',';
    d.us_units = true;
    d.blank = "---";
  });
  add("everything odd at once", [](D& d) {
    d.delimiter = ';';
    d.decimal = ',';
    d.us_units = true;
    d.names = NameStyle::brackets;
    d.time = TimeStyle::two_columns;
    d.ending = Ending::crlf;
    d.encoding = WideEncoding::utf16be;
    d.blank = "---";
    d.preamble = true;
    d.repeat_header = true;
    d.unknown_columns = true;
    d.padded = true;
    d.final_line_end = false;
    d.trailing_delimiter = true;
    d.shuffled_columns = true;
    d.gzip = true;
  });
  return all;
}

bool is_elapsed(const Dialect& d) {
  return d.time == TimeStyle::elapsed_s || d.time == TimeStyle::elapsed_clock;
}

TEST_CASE("one set of rows reads the same from every dialect") {
  const std::vector<Row> expected = test::made_up_rows(360);
  const std::vector<Dialect> all = dialects();
  REQUIRE(all.size() >= 40);
  for (const Dialect& dialect : all) {
    DYNAMIC_SECTION(dialect.name) {
      const std::string bytes = test::write_log(expected, dialect);
      const test::TempFile file(bytes);
      auto log = Log::open(file.path(), {});
      if (!log) FAIL(log.error().line());
      for (const ColumnUse& use : log->layout().columns) {
        UNSCOPED_INFO(use.header << " -> " << use.name << ": " << use.why);
      }
      for (const std::string& note : log->layout().notes) {
        UNSCOPED_INFO("note: " << note);
      }
      auto reader = log->rows();
      REQUIRE(reader);
      std::vector<Row> got;
      Row row;
      while (reader->next(row)) got.push_back(row);
      REQUIRE(got.size() == expected.size());
      CHECK(log->layout().interval_s == Approx(1.0).epsilon(0.01));
      const std::int64_t origin =
          is_elapsed(dialect) ? expected.front().logged.ms : 0;
      for (std::size_t i = 0; i < got.size(); ++i) {
        const Row& want = expected[i];
        INFO("row " << i << ", line " << got[i].line);
        // Eight digits of a day are a millisecond or so.
        REQUIRE(std::abs(got[i].logged.ms + origin - want.logged.ms) <=
                (dialect.time == TimeStyle::serial ? 1 : 0));
        REQUIRE(got[i].present == want.present);
        REQUIRE(got[i].blank == want.blank);
        for (std::size_t c = 0; c < kChannelCount; ++c) {
          const auto channel = static_cast<Channel>(c);
          if ((want.present & bit(channel)) == 0) continue;
          INFO(info_of(channel).slug);
          REQUIRE(std::abs(got[i].value[c] - want.value[c]) <=
                  test::tolerance_of(channel, dialect));
        }
        REQUIRE(got[i].state == want.state);
        AlarmMask alarms = 0;
        const auto& names = reader->alarm_names();
        for (std::size_t b = 0; b < names.size(); ++b) {
          if ((got[i].alarms >> b & 1U) == 0) continue;
          if (names[b] == "Low oil pressure") alarms |= 1U;
          if (names[b] == "High coolant temperature") alarms |= 2U;
        }
        REQUIRE(alarms == want.alarms);
      }
      const RowTally& tally = reader->tally();
      CHECK(tally.accepted + tally.rejected + tally.skipped == tally.lines);
      CHECK(tally.rejected == 0);
    }
  }
}

}  // namespace
}  // namespace telltale::host
