// Framing of records and cutting of cells.
#include "ingest/csv_source.hpp"

#include <csv.h>

#include <algorithm>
#include <cstring>
#include <exception>
#include <limits>
#include <utility>

#include "ingest/plain_cell.hpp"

namespace telltale::host {
namespace {

bool is_delimiter(char c, char delimiter) {
  if (delimiter != '\0') return c == delimiter;
  return c == ',' || c == ';' || c == '\t' || c == '|';
}

// Walks over quotation marks; can be fed line by line.
class QuoteScanner {
 public:
  explicit QuoteScanner(char delimiter) : delimiter_(delimiter) {}

  void feed(std::string_view text) {
    for (std::size_t i = 0; i < text.size(); ++i) {
      const char c = text[i];
      if (inside_) {
        if (c != '"') continue;
        if (i + 1 < text.size() && text[i + 1] == '"') {
          ++i;
        } else {
          inside_ = false;
          closed_ = true;
        }
      } else if (is_delimiter(c, delimiter_)) {
        cell_start_ = true;
        closed_ = false;
      } else if (c == '"') {
        if (cell_start_) {
          inside_ = true;
        } else {
          irregular_ = true;
        }
        cell_start_ = false;
      } else if (c != ' ' && c != '\t' && c != '\r') {
        if (closed_) irregular_ = true;
        cell_start_ = false;
      }
    }
  }

  [[nodiscard]] bool inside() const { return inside_; }
  [[nodiscard]] bool irregular() const { return irregular_; }

 private:
  char delimiter_;
  bool cell_start_ = true;
  bool inside_ = false;
  bool closed_ = false;
  bool irregular_ = false;
};

// The same blanks that io::trim_chars<' ', '\t', '\r'> drops, without the
// zero byte that it writes: the record's text must survive for --rejects.
constexpr bool is_blank(char c) { return c == ' ' || c == '\t' || c == '\r'; }

Cell without_blanks(const char* begin, const char* end) {
  while (begin != end && is_blank(*begin)) ++begin;
  while (begin != end && is_blank(end[-1])) --end;
  return {begin, static_cast<std::size_t>(end - begin)};
}

// Nearly all cells have no blanks around them.
inline Cell trimmed(const char* begin, const char* end) {
  if (begin != end && (*begin <= ' ' || end[-1] <= ' ')) {
    return without_blanks(begin, end);
  }
  return {begin, static_cast<std::size_t>(end - begin)};
}

template <class Policy>
void cut_with(const Record& record, std::vector<Cell>& cells) {
  *record.end = '\0';  // the policies stop there
  const char* at = record.begin;
  for (;;) {
    const char* const stop = Policy::find_next_column_end(at);
    cells.push_back(trimmed(at, stop));
    if (stop == record.end) return;
    at = stop + 1;
  }
}

template <char kDelimiter>
void cut_for(const Record& record, std::vector<Cell>& cells) {
  if (record.quoting == Quoting::regular) {
    cut_with<io::double_quote_escape<kDelimiter, '"'>>(record, cells);
  } else {
    cut_with<io::no_quote_escape<kDelimiter>>(record, cells);
  }
}

}  // namespace

Quoting quoting_of(std::string_view text, char delimiter) {
  if (text.find('"') == text.npos) return Quoting::none;
  QuoteScanner scanner(delimiter);
  scanner.feed(text);
  if (scanner.inside()) return Quoting::unclosed;
  return scanner.irregular() ? Quoting::irregular : Quoting::regular;
}

void cut_cells(const Record& record, char delimiter, std::vector<Cell>& cells) {
  cells.clear();
  try {
    switch (delimiter) {
      case ';':
        return cut_for<';'>(record, cells);
      case '\t':
        return cut_for<'\t'>(record, cells);
      case '|':
        return cut_for<'|'>(record, cells);
      default:
        return cut_for<','>(record, cells);
    }
  } catch (const std::exception&) {
    // An unclosed quotation mark: next() hands such records out as
    // `unclosed`, which are not cut by the throwing policy. Should one come
    // all the same, it has no cells and is rejected by its count.
    cells.clear();
  }
}

void cut_and_read_cells(const Record& record, char delimiter, char decimal,
                        std::vector<Cell>& cells, NumberCells& numbers) {
  *record.end = delimiter;  // so that every cell ends with one
  const char* const begin = record.begin;
  const char* const stop = record.end + 1;
  const char* at = begin;
  const auto cut_at = [&at, stop, delimiter] {
    const char* const end = cell_end(at, stop, delimiter);
    const Cell cell = trimmed(at, end);
    at = end + 1;
    return cell;
  };
  const std::size_t width = numbers.columns.size();
  cells.resize(width);
  Cell* cell = cells.data();
  const Cell* const last = cell + width;
  NumberCells::Column* column = numbers.columns.data();
  for (; cell != last && at != stop; ++cell, ++column) {
    const std::uint64_t text = eight_characters(begin, at, stop);
    std::size_t length = column->shape.read(text, column->value);
    if (length == 0 && column->expected) {
      length = read_plain_cell(text, delimiter, decimal, column->value);
      if (length != 0) column->shape.learn(text, length, decimal);
    }
    if (length == 0) {
      column->value = std::numeric_limits<double>::quiet_NaN();
      *cell = cut_at();
    } else {
      *cell = Cell(at, length);
      at += length + 1;
    }
  }
  cells.resize(width - static_cast<std::size_t>(last - cell));
  while (at != stop) cells.push_back(cut_at());
}

void unquote_cells(const Record& record, std::vector<Cell>& cells) {
  if (record.quoting != Quoting::regular) return;
  for (Cell& cell : cells) {
    char* first = record.begin + (cell.data() - record.begin);
    char* last = first + cell.size();
    io::double_quote_escape<',', '"'>::unescape(first, last);
    cell = {first, static_cast<std::size_t>(last - first)};
  }
}

CsvSource::CsvSource(std::unique_ptr<ByteCursor> cursor, EncodingGuess encoding,
                     char delimiter)
    : window_(std::move(cursor), encoding), delimiter_(delimiter) {}

// The line end at or after `from`, reading on where there is none yet; null
// where the log or the room ends first. `from` moves with the window.
char* CsvSource::find_line_end(char*& from) {
  const auto offset = static_cast<std::size_t>(from - window_.begin());
  std::size_t searched = offset;
  for (;;) {
    char* const at = window_.begin() + searched;
    void* const found =
        std::memchr(at, '\n', static_cast<std::size_t>(window_.end() - at));
    from = window_.begin() + offset;
    if (found != nullptr) return static_cast<char*>(found);
    searched = static_cast<std::size_t>(window_.end() - window_.begin());
    if (!window_.fill()) {
      from = window_.begin() + offset;
      return nullptr;
    }
  }
}

bool CsvSource::next(Record& record) {
  if (in_long_line_) skip_rest_of_long_line();
  record = Record{};
  char* begin = window_.begin();
  char* line_end = find_line_end(begin);
  if (line_end == nullptr) {
    line_end = window_.end();
    if (begin == line_end) return false;
    record.too_long = !window_.at_end();
    record.unterminated = !record.too_long;
    in_long_line_ = record.too_long;
  }
  record.begin = begin;
  record.line = line_ + 1;
  const bool terminated = !record.unterminated && !record.too_long;
  if (window_.may_hold_quote() && !record.too_long &&
      std::memchr(begin, '"', static_cast<std::size_t>(line_end - begin)) !=
          nullptr) {
    frame_quoted(record, line_end);
  } else {
    record.end = line_end;
    last_bytes_ = static_cast<std::size_t>(line_end - begin) + terminated;
  }
  if (window_.may_hold_nul()) {
    record.has_nul = record.text().find('\0') != std::string_view::npos;
  }
  window_.consume(last_bytes_);
  line_ += record.lines;
  return true;
}

bool CsvSource::skip_plain_line() {
  if (in_long_line_) return false;
  // Where the window happens to end must not matter: what is passed over is
  // the same however the log is written.
  if (window_.begin() == window_.end() && !window_.fill()) return false;
  char* begin = window_.begin();
  if (begin == window_.end() || *begin < '0' || *begin > '9') return false;
  char* const line_end = find_line_end(begin);
  if (line_end == nullptr || window_.may_hold_quote()) return false;
  window_.consume(static_cast<std::size_t>(line_end - begin) + 1);
  ++line_;
  return true;
}

// A line with quotation marks: it ends where they close.
void CsvSource::frame_quoted(Record& record, char* line_end) {
  QuoteScanner scanner(delimiter_);
  char* scanned = record.begin;
  const auto first_length = static_cast<std::size_t>(line_end - record.begin);
  bool terminated = !record.unterminated;
  for (;;) {
    scanner.feed({scanned, static_cast<std::size_t>(line_end - scanned)});
    if (!scanner.inside()) break;
    const auto length = static_cast<std::size_t>(line_end - record.begin);
    bool stray = !terminated || record.lines >= kMaxQuotedLines ||
                 length >= kMaxQuotedBytes;
    if (!stray) {
      scanned = line_end + 1;
      char* const more = find_line_end(scanned);
      record.begin = window_.begin();  // the window may have moved
      terminated = more != nullptr;
      line_end = terminated ? more : window_.end();
      stray = !terminated && (scanned == line_end || !window_.at_end());
      ++record.lines;
    }
    if (!stray) continue;
    record.quoting = Quoting::unclosed;
    record.lines = 1;
    record.end = record.begin + first_length;
    terminated = record.end != window_.end();
    record.unterminated = !terminated;
    last_bytes_ = first_length + terminated;
    return;
  }
  record.unterminated = !terminated;
  record.end = line_end;
  record.quoting = scanner.irregular() ? Quoting::irregular : Quoting::regular;
  last_bytes_ = static_cast<std::size_t>(line_end - record.begin) + terminated;
}

void CsvSource::keep_first_line_only(Record& record) {
  if (record.lines <= 1) return;
  const std::size_t first = record.text().find('\n');
  if (first == std::string_view::npos) return;
  // cut_cells() has put a zero byte where the record's line end was.
  if (!record.unterminated) *record.end = '\n';
  window_.give_back(last_bytes_ - (first + 1));
  last_bytes_ = first + 1;
  line_ -= record.lines - 1;
  record.lines = 1;
  record.end = record.begin + first;
  record.quoting = Quoting::unclosed;
  record.unterminated = false;
}

void CsvSource::skip_rest_of_long_line() {
  in_long_line_ = false;
  for (;;) {
    char* const begin = window_.begin();
    const auto size = static_cast<std::size_t>(window_.end() - begin);
    void* const found = std::memchr(begin, '\n', size);
    const std::size_t piece =
        found == nullptr
            ? size
            : static_cast<std::size_t>(static_cast<char*>(found) - begin);
    if (long_line_sink_ && piece > 0) long_line_sink_({begin, piece});
    window_.consume(piece + (found != nullptr));
    if (found != nullptr || !window_.fill()) return;
  }
}

}  // namespace telltale::host
