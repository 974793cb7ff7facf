// Lines backwards.
#include "ingest/reverse_cursor.hpp"

#include <algorithm>
#include <cstring>
#include <utility>
#include <vector>

namespace telltale::host {
namespace {

constexpr std::size_t kBlock = std::size_t{128} << 10;
// A line longer than this goes out in pieces that are no rows anyway.
constexpr std::size_t kMostHeld = std::size_t{4} << 20;

}  // namespace

ReverseCursor::ReverseCursor(std::shared_ptr<const ByteStore> store,
                             std::uint64_t head_bytes)
    : store_(std::move(store)),
      head_bytes_(std::min(head_bytes, store_->size())),
      low_(store_->size()) {}

// Puts the block before `low_` in front of what is held.
bool ReverseCursor::load_before() {
  if (low_ <= head_bytes_ || held_.size() >= kMostHeld) return false;
  const auto size = static_cast<std::size_t>(
      std::min<std::uint64_t>(kBlock, low_ - head_bytes_));
  std::string block(size, '\0');
  int error = 0;
  const std::size_t got =
      store_->read_at(low_ - size, block.data(), size, error);
  if (error != 0 || got < size) {
    trouble_ = "the file changed while it was read";
    low_ = head_bytes_;
    return false;
  }
  held_.insert(0, block);
  low_ -= size;
  stored_read_ += size;
  return true;
}

bool ReverseCursor::take_last_line() {
  for (;;) {
    // The line end of the last line itself does not part it from another.
    const std::size_t end =
        held_.empty() ? 0 : held_.size() - (held_.back() == '\n' ? 1 : 0);
    const std::size_t before =
        end == 0 ? std::string::npos : held_.rfind('\n', end - 1);
    if (before != std::string::npos || !load_before()) {
      if (held_.empty()) return false;
      const std::size_t from = before == std::string::npos ? 0 : before + 1;
      line_.assign(held_, from);
      if (line_.back() != '\n') line_ += '\n';
      line_at_ = 0;
      held_.resize(from);
      return true;
    }
  }
}

std::size_t ReverseCursor::read(char* to, std::size_t count) {
  std::size_t have = 0;
  while (have < count) {
    if (head_at_ < head_bytes_) {
      int error = 0;
      const auto wants = static_cast<std::size_t>(
          std::min<std::uint64_t>(count - have, head_bytes_ - head_at_));
      const std::size_t got =
          store_->read_at(head_at_, to + have, wants, error);
      if (got == 0) return have;
      head_at_ += got;
      stored_read_ += got;
      have += got;
      continue;
    }
    if (line_at_ == line_.size() && !take_last_line()) return have;
    const std::size_t piece = std::min(count - have, line_.size() - line_at_);
    std::memcpy(to + have, line_.data() + line_at_, piece);
    line_at_ += piece;
    have += piece;
  }
  return have;
}

std::uint64_t bytes_of_lines(const ByteStore& store, std::uint64_t lines) {
  const auto cursor = store.cursor();
  std::vector<char> block(std::size_t{64} << 10);
  std::uint64_t bytes = 0;
  while (const std::size_t got = cursor->read(block.data(), block.size())) {
    for (std::size_t i = 0; i < got && lines > 0; ++i) {
      ++bytes;
      lines -= block[i] == '\n';
    }
    if (lines == 0) break;
  }
  return bytes;
}

std::uint64_t count_lines(const ByteStore& store) {
  const auto cursor = store.cursor();
  std::vector<char> block(std::size_t{256} << 10);
  std::uint64_t lines = 0;
  char last = '\n';
  while (const std::size_t got = cursor->read(block.data(), block.size())) {
    lines += static_cast<std::uint64_t>(std::count(
        block.begin(), block.begin() + static_cast<std::ptrdiff_t>(got), '\n'));
    last = block[got - 1];
  }
  return lines + (last != '\n');
}

}  // namespace telltale::host
