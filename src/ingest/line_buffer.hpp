// Cuts pushed text into records.
#pragma once

#include <cstdint>
#include <string>
#include <string_view>

#include "ingest/csv_source.hpp"
#include "ingest/text_encoding.hpp"

namespace telltale::host {

/// The pushed counterpart of CsvSource: the same records from bytes that come
/// in pieces, as soon as a record is whole.
class LineBuffer {
 public:
  LineBuffer(EncodingGuess encoding, char delimiter);

  void feed(std::string_view bytes);
  void close();

  /// The next whole record; false: feed more. Valid until the next call.
  bool next(Record& record);

 private:
  [[nodiscard]] std::size_t line_end(std::size_t from) const;

  TextDecoder decoder_;
  std::size_t mark_left_;
  char delimiter_;
  std::string text_;
  std::size_t begin_ = 0;
  std::uint64_t line_ = 0;
  bool closed_ = false;
  bool in_long_line_ = false;
};

}  // namespace telltale::host
