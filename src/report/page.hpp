// Page: plain text in lines of at most 80 columns.
#pragma once

#include <fmt/format.h>

#include <cstddef>
#include <string>
#include <string_view>

namespace telltale::host {

/// Columns a UTF-8 text takes on a terminal: one a character.
std::size_t columns_of(std::string_view text);

/// Appends lines to a buffer; text is wrapped at word boundaries.
class Page {
 public:
  static constexpr std::size_t kWidth = 80;

  explicit Page(fmt::memory_buffer& out) : out_(&out) {}

  /// One line as it is.
  void line(std::string_view text = {});
  /// A paragraph: `lead` in front of the first line, following lines indented
  /// to the same column.
  void paragraph(std::string_view lead, std::string_view text);
  /// A heading with a rule under it.
  void heading(std::string_view text);

 private:
  fmt::memory_buffer* out_;
};

/// `text` padded with blanks on the right (or left) to so many columns.
std::string pad_right(std::string_view text, std::size_t width);
std::string pad_left(std::string_view text, std::size_t width);

}  // namespace telltale::host
