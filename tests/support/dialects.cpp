// The dialects, one by one.
#include "dialects.hpp"

#include <utility>

namespace telltale::test {
namespace {

Dialect named(std::string name, auto&& change) {
  Dialect d;
  d.name = std::move(name);
  change(d);
  return d;
}

}  // namespace

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

}  // namespace telltale::test
