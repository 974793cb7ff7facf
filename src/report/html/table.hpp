// Tables of an HTML page.
#pragma once

#include <fmt/format.h>

#include <initializer_list>
#include <string_view>

namespace telltale::host {

/// A column of a table: of figures, or of words.
struct Head {
  std::string_view title;
  bool words = false;
};
inline constexpr bool kWords = true;

/// Begins a table that scrolls by itself where the page is narrow. Caption and
/// heads are plain text.
void open_table(fmt::memory_buffer& out, std::string_view caption,
                std::initializer_list<Head> heads);
void close_table(fmt::memory_buffer& out);

}  // namespace telltale::host
