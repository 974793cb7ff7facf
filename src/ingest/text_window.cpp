// The sliding window: reading, decoding, line ends.
#include "ingest/text_window.hpp"

#include <algorithm>
#include <cstring>
#include <string_view>
#include <utility>

namespace telltale::host {

TextWindow::TextWindow(std::unique_ptr<ByteCursor> cursor,
                       EncodingGuess encoding)
    : cursor_(std::move(cursor)),
      decoder_(encoding.encoding),
      utf8_(encoding.encoding == Encoding::utf8),
      mark_bytes_(encoding.mark_bytes),
      buffer_(1) {}  // so that begin() is no null pointer

bool TextWindow::fill() {
  if (at_end_ || end_ - begin_ >= kMaxHeld) return false;
  // What is unread moves to the front.
  const std::size_t shift = begin_;
  if (shift > 0) {
    std::memmove(buffer_.data(), buffer_.data() + shift, filled_ - shift);
    filled_ -= shift;
    end_ -= shift;
    begin_ = 0;
    quote_until_ -= std::min(quote_until_, shift);
    nul_until_ -= std::min(nul_until_, shift);
  }
  const std::size_t room = TextDecoder::room_for(kStep) + 1;
  const std::size_t step = utf8_ ? kStep + 1 : room;
  if (buffer_.size() < filled_ + step) {
    buffer_.reserve(filled_ + step + 4096);  // no doubling for a short rest
    buffer_.resize(filled_ + step);
  }

  const std::size_t fresh = filled_;
  const bool first = mark_bytes_ > 0;
  if (utf8_) {
    const std::size_t got = cursor_->read(buffer_.data() + filled_, kStep);
    at_end_ = got < kStep;
    filled_ += got;
  } else {
    raw_.resize(kStep);
    const std::size_t got = cursor_->read(raw_.data(), kStep);
    at_end_ = got < kStep;
    std::string_view bytes(raw_.data(), got);
    if (first) {
      bytes.remove_prefix(std::min(mark_bytes_, got));
      mark_bytes_ = 0;
    }
    filled_ += decoder_.decode(bytes, buffer_.data() + filled_, at_end_);
  }
  if (first && utf8_) {
    begin_ = std::min(mark_bytes_, filled_);
    end_ = std::max(end_, begin_);
    mark_bytes_ = 0;
  }
  append(std::max(fresh, begin_));
  return true;
}

void TextWindow::append(std::size_t fresh_begin) {
  // Whether there is any is enough to know, and quick to find out.
  const char* const fresh = buffer_.data() + fresh_begin;
  const std::size_t size = filled_ - fresh_begin;
  if (std::memchr(fresh, '"', size) != nullptr) quote_until_ = filled_;
  if (std::memchr(fresh, '\0', size) != nullptr) nul_until_ = filled_;
  settle_carriage_returns(end_);
}

// Text from `from` on is new. CRs at the very end wait until it is known
// whether an LF follows.
void TextWindow::settle_carriage_returns(std::size_t from) {
  char* const text = buffer_.data();
  std::size_t at = from;
  end_ = filled_;
  while (at < filled_) {
    const void* found = std::memchr(text + at, '\r', filled_ - at);
    if (found == nullptr) return;
    const auto run =
        static_cast<std::size_t>(static_cast<const char*>(found) - text);
    std::size_t after = run;
    while (after < filled_ && text[after] == '\r') ++after;
    if (after == filled_ && !at_end_) {
      end_ = run;
      return;
    }
    if (after == filled_ || text[after] != '\n') {
      std::fill(text + run, text + after, '\n');
    }
    at = after;
  }
}

}  // namespace telltale::host
