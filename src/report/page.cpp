#include "report/page.hpp"

namespace telltale::host {
namespace {

void append(fmt::memory_buffer& out, std::string_view text) {
  out.append(text.data(), text.data() + text.size());
}

}  // namespace

std::size_t columns_of(std::string_view text) {
  std::size_t columns = 0;
  bool escape = false;
  for (const char c : text) {
    // Our own colour sequences take no room.
    if (c == '\x1b') escape = true;
    const bool continuation = (static_cast<unsigned char>(c) & 0xC0U) == 0x80U;
    if (!escape && !continuation) ++columns;
    if (escape && c == 'm') escape = false;
  }
  return columns;
}

void Page::line(std::string_view text) {
  append(*out_, text.substr(0, text.find_last_not_of(' ') + 1));
  out_->push_back('\n');
}

void Page::paragraph(std::string_view lead, std::string_view text) {
  const std::size_t indent = columns_of(lead);
  const std::string blanks(indent, ' ');
  std::string current(lead);
  std::size_t used = indent;
  bool first_word = true;
  while (!text.empty()) {
    const std::size_t end = text.find(' ');
    const std::string_view word = text.substr(0, end);
    text.remove_prefix(end == std::string_view::npos ? text.size() : end + 1);
    if (word.empty()) continue;
    const std::size_t width = columns_of(word);
    if (!first_word && used + 1 + width > kWidth) {
      line(current);
      current = blanks;
      used = indent;
      first_word = true;
    }
    if (!first_word) {
      current += ' ';
      ++used;
    }
    current += word;
    used += width;
    first_word = false;
  }
  line(current);
}

void Page::heading(std::string_view text) {
  line();
  line(text);
  line(std::string(columns_of(text), '-'));
}

std::string pad_right(std::string_view text, std::size_t width) {
  const std::size_t used = columns_of(text);
  return std::string(text) + std::string(used < width ? width - used : 0, ' ');
}

std::string pad_left(std::string_view text, std::size_t width) {
  const std::size_t used = columns_of(text);
  return std::string(used < width ? width - used : 0, ' ') + std::string(text);
}

}  // namespace telltale::host
