// Records of a delimited text, and their cells (RFC 4180, leniently). The
// cells are cut by fast-cpp-csv-parser's policies; only this file's source
// names that package.
#pragma once

#include <cstdint>
#include <functional>
#include <memory>
#include <string_view>
#include <utility>
#include <vector>

#include "ingest/plain_cell.hpp"
#include "ingest/text_window.hpp"

namespace telltale::host {

/// How a record uses quotation marks.
enum class Quoting : std::uint8_t {
  none,
  regular,    // as RFC 4180 has it
  irregular,  // elsewhere than around whole cells: taken as text
  unclosed    // opened and not closed; the record is the first line alone
};

/// One record: a line, or several where a quoted cell holds line breaks.
struct Record {
  char* begin = nullptr;  // without the line end
  char* end = nullptr;
  std::uint64_t line = 0;   // where it starts; the first line is 1
  std::uint32_t lines = 1;  // how many it takes
  Quoting quoting = Quoting::none;
  bool has_nul = false;
  bool too_long = false;      // only its first part is here
  bool unterminated = false;  // the log ends without a line end

  [[nodiscard]] std::string_view text() const {
    return {begin, static_cast<std::size_t>(end - begin)};
  }
};

/// A cell's text, trimmed; valid as long as its record.
using Cell = std::string_view;

class CsvSource {
 public:
  /// A quoted cell may not be longer than this, in lines and bytes: beyond it
  /// the quotation mark is taken for a stray one.
  static constexpr std::uint32_t kMaxQuotedLines = 200;
  static constexpr std::size_t kMaxQuotedBytes = std::size_t{64} << 10;

  /// `delimiter` 0: not known yet, any of , ; tab | may stand before a quote.
  CsvSource(std::unique_ptr<ByteCursor> cursor, EncodingGuess encoding,
            char delimiter = '\0');

  /// The next record; false at the end of the log. The record is valid until
  /// the next call. Blank lines are records too.
  bool next(Record& record);

  /// Gives all but the first line of the last record back: they come again as
  /// records of their own. For a record whose quotes proved to be stray.
  void keep_first_line_only(Record& record);

  /// Gets the rest of a too long line, piece by piece, at the next next().
  void on_rest_of_long_line(std::function<void(std::string_view)> sink) {
    long_line_sink_ = std::move(sink);
  }

  /// Passes over a line that is surely one record of readings: it begins with
  /// a digit and no quotation mark is near. False, with nothing done, for any
  /// other.
  bool skip_plain_line();

  /// Lines read so far.
  [[nodiscard]] std::uint64_t lines() const { return line_; }
  [[nodiscard]] const std::string& trouble() const { return window_.trouble(); }
  [[nodiscard]] std::uint64_t stored_bytes_read() const {
    return window_.stored_bytes_read();
  }

 private:
  char* find_line_end(char*& from);
  void frame_quoted(Record& record, char* line_end);
  void skip_rest_of_long_line();

  TextWindow window_;
  char delimiter_;
  std::uint64_t line_ = 0;
  std::function<void(std::string_view)> long_line_sink_;
  bool in_long_line_ = false;
  std::size_t last_bytes_ = 0;  // what next() consumed for the last record
};

/// Cuts a record into trimmed cells that still wear their quotation marks; the
/// record's text stays as it is. `cells` is cleared first. An `unclosed` or
/// `irregular` record is cut at every delimiter.
/// REQUIRES: the byte at record.end may be written to
void cut_cells(const Record& record, char delimiter, std::vector<Cell>& cells);

/// The numbers that could be read while cells were being cut.
struct NumberCells {
  struct Column {
    bool expected = false;  // whether a plain decimal is
    PlainShape shape;       // of the last one, where one is expected
    double value = 0.0;     // NaN where none was read
  };
  std::vector<Column> columns;
};

/// The same as cut_cells() for a record without quotation marks; plain short
/// decimals are read in passing.
void cut_and_read_cells(const Record& record, char delimiter, char decimal,
                        std::vector<Cell>& cells, NumberCells& numbers);

/// Takes the quotation marks off the cells of a `regular` record, in place:
/// the record's text is no longer as it was.
void unquote_cells(const Record& record, std::vector<Cell>& cells);

/// How the quotation marks in `text` stand; see Quoting. `delimiter` 0: any.
Quoting quoting_of(std::string_view text, char delimiter);

}  // namespace telltale::host
