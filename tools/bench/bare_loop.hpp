// The floor: lines and cells by the CSV package, numbers by fast_float, and
// nothing else done with them.
#pragma once

#include <limits>  // csv.h forgets it
#include <string>
#include <system_error>

#include <csv.h>
#include <fast_float/fast_float.h>

namespace telltale::bench {

/// The sum of all numbers but those of the first column, which is left as text;
/// the first line is passed over.
inline double bare_loop(const std::string& path) {
  using Quotes = io::double_quote_escape<',', '"'>;
  using Trim = io::trim_chars<' ', '\t'>;
  io::LineReader lines(path);
  lines.next_line();
  double sum = 0;
  while (char* line = lines.next_line()) {
    for (int column = 0; line != nullptr; ++column) {
      char* begin = nullptr;
      char* end = nullptr;
      io::detail::chop_next_column<Quotes>(line, begin, end);
      Trim::trim(begin, end);
      Quotes::unescape(begin, end);
      if (column == 0) continue;
      double value = 0;
      const auto answer = fast_float::from_chars(begin, end, value);
      if (answer.ec == std::errc() && answer.ptr == end) sum += value;
    }
  }
  return sum;
}

}  // namespace telltale::bench
