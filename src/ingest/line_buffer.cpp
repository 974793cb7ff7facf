// Pushed text to records.
#include "ingest/line_buffer.hpp"

#include <algorithm>
#include <vector>

namespace telltale::host {

LineBuffer::LineBuffer(EncodingGuess encoding, char delimiter)
    : decoder_(encoding.encoding),
      mark_left_(encoding.mark_bytes),
      delimiter_(delimiter) {}

void LineBuffer::feed(std::string_view bytes) {
  const std::size_t mark = std::min(mark_left_, bytes.size());
  mark_left_ -= mark;
  bytes.remove_prefix(mark);
  text_.erase(0, begin_);
  begin_ = 0;
  const std::size_t before = text_.size();
  text_.resize(before + TextDecoder::room_for(bytes.size()));
  text_.resize(before + decoder_.decode(bytes, text_.data() + before, false));
}

void LineBuffer::close() {
  const std::size_t before = text_.size();
  text_.resize(before + TextDecoder::room_for(0));
  text_.resize(before + decoder_.decode({}, text_.data() + before, true));
  closed_ = true;
}

// Where the line from `from` on ends: at an LF, or at a CR that no LF follows.
// npos: not known yet.
std::size_t LineBuffer::line_end(std::size_t from) const {
  for (std::size_t at = text_.find_first_of("\r\n", from);
       at != std::string::npos; at = text_.find_first_of("\r\n", at)) {
    if (text_[at] == '\n') return at;
    const std::size_t after = text_.find_first_not_of('\r', at);
    if (after == std::string::npos) {
      return closed_ ? at : std::string::npos;
    }
    if (text_[after] != '\n') return at;
    at = after;
  }
  return std::string::npos;
}

bool LineBuffer::next(Record& record) {
  record = Record{};
  std::size_t end = line_end(begin_);
  const bool too_long =
      end == std::string::npos && text_.size() - begin_ > TextWindow::kMaxHeld;
  if (in_long_line_) {
    // The rest of a line that was handed out cut.
    const std::size_t stop = end == std::string::npos ? text_.size() : end + 1;
    in_long_line_ = end == std::string::npos;
    begin_ = stop;
    if (in_long_line_) return false;
    return next(record);
  }
  if (end == std::string::npos && !too_long) {
    if (!closed_ || begin_ == text_.size()) return false;
    end = text_.size();
    record.unterminated = true;
  } else if (too_long) {
    end = text_.size();
    in_long_line_ = record.too_long = true;
  }
  record.quoting = quoting_of(
      std::string_view(text_).substr(begin_, end - begin_), delimiter_);
  const std::size_t first_end = end;
  while (record.quoting == Quoting::unclosed && !record.too_long &&
         record.lines < CsvSource::kMaxQuotedLines &&
         end - begin_ < CsvSource::kMaxQuotedBytes && end < text_.size()) {
    std::size_t more = line_end(end + 1);
    if (more == std::string::npos) {
      if (!closed_) return false;  // it may close yet
      if (end + 1 >= text_.size()) break;
      more = text_.size();
      record.unterminated = true;
    }
    // A CR that ended a line within the record is a line break like others.
    text_[end] = '\n';
    end = more;
    ++record.lines;
    record.quoting = quoting_of(
        std::string_view(text_).substr(begin_, end - begin_), delimiter_);
  }
  if (record.quoting == Quoting::unclosed) {
    end = first_end;
    record.lines = 1;
    record.unterminated = closed_ && end == text_.size();
  }
  record.begin = text_.data() + begin_;
  record.end = text_.data() + end;
  record.line = line_ + 1;
  record.has_nul = record.text().find('\0') != std::string_view::npos;
  line_ += record.lines;
  begin_ = std::min(end + 1, text_.size());
  return true;
}

}  // namespace telltale::host
