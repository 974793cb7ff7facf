// Folding of Latin letters.
#include "ingest/fold_letters.hpp"

#include <array>
#include <cstddef>

namespace telltale::host {
namespace {

// U+00C0 .. U+00FF by base letter; "" keeps the character.
constexpr std::array<std::string_view, 64> kLatin1 = {
    "a", "a", "a", "a", "a", "a",  "ae", "c", "e", "e", "e", "e", "i",
    "i", "i", "i", "d", "n", "o",  "o",  "o", "o", "o", "",  "o", "u",
    "u", "u", "u", "y", "",  "ss", "a",  "a", "a", "a", "a", "a", "ae",
    "c", "e", "e", "e", "e", "i",  "i",  "i", "i", "d", "n", "o", "o",
    "o", "o", "o", "",  "o", "u",  "u",  "u", "u", "y", "",  "y"};

}  // namespace

std::string fold_letters(std::string_view text) {
  std::string out;
  out.reserve(text.size());
  for (std::size_t i = 0; i < text.size(); ++i) {
    const char c = text[i];
    if (c >= 'A' && c <= 'Z') {
      out += static_cast<char>(c - 'A' + 'a');
      continue;
    }
    const bool accented = c == '\xC3' && i + 1 < text.size();
    if (accented) {
      const auto second = static_cast<unsigned char>(text[i + 1]);
      if (second >= 0x80 && second <= 0xBF) {
        const std::string_view base = kLatin1[second - 0x80U];
        if (!base.empty()) {
          out += base;
          ++i;
          continue;
        }
      }
    }
    // U+0152, U+0153: the joined oe of French.
    if (c == '\xC5' && i + 1 < text.size() &&
        (text[i + 1] == '\x92' || text[i + 1] == '\x93')) {
      out += "oe";
      ++i;
      continue;
    }
    out += c;
  }
  return out;
}

}  // namespace telltale::host
