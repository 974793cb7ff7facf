// Writes one set of made-up rows in any of many dialects.
#pragma once

#include <cstdint>
#include <functional>
#include <string>
#include <vector>

#include "ingest/row.hpp"

namespace telltale::test {

/// How stamps are written.
enum class TimeStyle {
  iso_z,
  iso_zone,
  iso_space,
  iso_fraction,
  epoch_s,
  epoch_ms,
  epoch_fraction,
  day_first_dots,
  day_first_slash,
  month_first_12h,
  month_name,
  compact,
  two_columns,
  two_columns_12h,
  serial,
  elapsed_s,
  elapsed_clock
};

enum class NameStyle { snake, words, camel, brackets, german, slash };
enum class UnitPlace { header, unit_row, cells, none };
enum class Ending { lf, crlf, cr, cr_cr_cr_lf };
enum class WideEncoding { utf8, utf8_bom, utf16le, utf16be, latin1 };
enum class Shape { wide, long_format, pairs };

/// One dialect; the defaults are the plainest log there is.
struct Dialect {
  std::string name = "plain";
  char delimiter = ',';
  char decimal = '.';
  bool us_units = false;
  NameStyle names = NameStyle::words;
  UnitPlace units = UnitPlace::header;
  TimeStyle time = TimeStyle::iso_space;
  Ending ending = Ending::lf;
  WideEncoding encoding = WideEncoding::utf8;
  Shape shape = Shape::wide;
  std::string blank;  // how a missing reading is written
  bool quote_all = false;
  bool preamble = false;
  bool repeat_header = false;  // every 50 rows
  bool final_line_end = true;
  bool trailing_delimiter = false;
  bool unknown_columns = false;
  bool padded = false;  // blanks around cells
  bool gzip = false;
  bool shuffled_columns = false;
  bool embedded_line_breaks = false;  // in a quoted remark column
};

/// Rows that every dialect can carry: canonical values that survive a
/// dialect's digits within `tolerance_of`.
std::vector<host::Row> made_up_rows(std::size_t count);

/// The bytes of a log with these rows. Alarm texts: bit 0 "Low oil pressure",
/// bit 1 "High coolant temperature".
std::string write_log(const std::vector<host::Row>& rows,
                      const Dialect& dialect);

/// How far a value may move by being written: half a last digit of the
/// dialect's unit, in the canonical one.
double tolerance_of(Channel channel, const Dialect& dialect);

/// Bytes compressed as gzip does.
std::string gzip_bytes(const std::string& bytes);
/// UTF-8 text in another encoding, with its byte-order mark if it has one.
std::string encode(const std::string& text, WideEncoding encoding);

}  // namespace telltale::test
