// A sliding window of decoded text over a log.
#pragma once

#include <cstddef>
#include <cstdint>
#include <memory>
#include <string>
#include <vector>

#include "ingest/byte_store.hpp"
#include "ingest/text_encoding.hpp"

namespace telltale::host {

/// Text of a log in UTF-8, a window at a time, with line ends made uniform:
/// LF ends a line; CRs just before an LF stay (they belong to the line end);
/// a CR that no LF follows is a line end of its own and becomes LF.
class TextWindow {
 public:
  /// Bytes read at a time.
  static constexpr std::size_t kStep = std::size_t{256} << 10;
  /// The longest stretch that can be held for one record.
  static constexpr std::size_t kMaxHeld = std::size_t{1} << 20;

  TextWindow(std::unique_ptr<ByteCursor> cursor, EncodingGuess encoding);

  /// The unread text. May be written to; one byte past end() too.
  [[nodiscard]] char* begin() { return buffer_.data() + begin_; }
  [[nodiscard]] char* end() { return buffer_.data() + end_; }

  void consume(std::size_t bytes) { begin_ += bytes; }
  /// Undoes the last of what consume() took, before any fill().
  void give_back(std::size_t bytes) { begin_ -= bytes; }

  /// Appends more text; pointers into the window become invalid. False where
  /// nothing more comes, or where kMaxHeld bytes are unread already.
  bool fill();

  /// Whether the unread text may hold this; counted when text is read.
  [[nodiscard]] bool may_hold_quote() const { return quote_until_ > begin_; }
  [[nodiscard]] bool may_hold_nul() const { return nul_until_ > begin_; }

  /// All of the log is in the window.
  [[nodiscard]] bool at_end() const { return at_end_; }
  [[nodiscard]] const std::string& trouble() const {
    return cursor_->trouble();
  }
  [[nodiscard]] std::uint64_t stored_bytes_read() const {
    return cursor_->stored_bytes_read();
  }

 private:
  void append(std::size_t fresh_begin);
  void settle_carriage_returns(std::size_t from);

  std::unique_ptr<ByteCursor> cursor_;
  TextDecoder decoder_;
  bool utf8_;
  std::size_t mark_bytes_;
  std::vector<char> buffer_;
  std::vector<char> raw_;
  std::size_t begin_ = 0;
  std::size_t end_ = 0;     // end of what is visible
  std::size_t filled_ = 0;  // end of what is read; CRs may wait beyond end_
  std::size_t quote_until_ = 0;
  std::size_t nul_until_ = 0;
  bool at_end_ = false;
};

}  // namespace telltale::host
