// Escaping and cleaning of text that came from outside.
#include "support/safe_text.hpp"

#include <array>
#include <cstddef>
#include <cstdint>
#include <optional>

#include "support/number.hpp"

namespace telltale::host {
namespace {

struct Decoded {
  char32_t character;
  std::size_t length;
};

// The character at `text`'s start, or nothing where it is not well-formed.
std::optional<Decoded> first_character(std::string_view text) {
  const auto byte = [&](std::size_t i) {
    return static_cast<unsigned char>(text[i]);
  };
  const unsigned lead = byte(0);
  if (lead < 0x80) return Decoded{lead, 1};
  std::size_t length = 0;
  char32_t value = 0;
  char32_t least = 0;
  if (lead >= 0xC2 && lead <= 0xDF) {
    length = 2, value = lead & 0x1FU, least = 0x80;
  } else if (lead >= 0xE0 && lead <= 0xEF) {
    length = 3, value = lead & 0x0FU, least = 0x800;
  } else if (lead >= 0xF0 && lead <= 0xF4) {
    length = 4, value = lead & 0x07U, least = 0x10000;
  } else {
    return std::nullopt;
  }
  if (text.size() < length) return std::nullopt;
  for (std::size_t i = 1; i < length; ++i) {
    if ((byte(i) & 0xC0U) != 0x80U) return std::nullopt;
    value = (value << 6) | (byte(i) & 0x3FU);
  }
  const bool surrogate = value >= 0xD800 && value <= 0xDFFF;
  if (value < least || value > 0x10FFFF || surrogate) return std::nullopt;
  return Decoded{value, length};
}

// Control characters, and the marks that turn the direction of writing: both
// can make a terminal show something other than what is there.
bool is_unsafe(char32_t c) {
  return c < 0x20 || (c >= 0x7F && c < 0xA0) || c == 0x2028 || c == 0x2029 ||
         (c >= 0x200B && c <= 0x200F) || (c >= 0x202A && c <= 0x202E) ||
         (c >= 0x2060 && c <= 0x206F) || c == 0xFEFF;
}

constexpr std::array<std::uint16_t, 32> kWindows1252 = {
    0x20AC, 0x0081, 0x201A, 0x0192, 0x201E, 0x2026, 0x2020, 0x2021,
    0x02C6, 0x2030, 0x0160, 0x2039, 0x0152, 0x008D, 0x017D, 0x008F,
    0x0090, 0x2018, 0x2019, 0x201C, 0x201D, 0x2022, 0x2013, 0x2014,
    0x02DC, 0x2122, 0x0161, 0x203A, 0x0153, 0x009D, 0x017E, 0x0178};

}  // namespace

void append_utf8(std::string& out, char32_t c) {
  const auto put = [&](char32_t bits) { out += static_cast<char>(bits); };
  if (c > 0x10FFFF || (c >= 0xD800 && c <= 0xDFFF)) c = 0xFFFD;
  if (c < 0x80) {
    put(c);
  } else if (c < 0x800) {
    put(0xC0 | (c >> 6));
    put(0x80 | (c & 0x3F));
  } else if (c < 0x10000) {
    put(0xE0 | (c >> 12));
    put(0x80 | ((c >> 6) & 0x3F));
    put(0x80 | (c & 0x3F));
  } else {
    put(0xF0 | (c >> 18));
    put(0x80 | ((c >> 12) & 0x3F));
    put(0x80 | ((c >> 6) & 0x3F));
    put(0x80 | (c & 0x3F));
  }
}

char32_t from_windows_1252(unsigned char byte) {
  if (byte >= 0x80 && byte < 0xA0) return kWindows1252[byte - 0x80U];
  return byte;
}

bool is_utf8(std::string_view text) {
  while (!text.empty()) {
    const auto c = first_character(text);
    if (!c) return false;
    text.remove_prefix(c->length);
  }
  return true;
}

std::string printable(std::string_view text, std::size_t max_bytes) {
  std::string out;
  while (!text.empty()) {
    char32_t c = 0;
    if (const auto decoded = first_character(text)) {
      c = decoded->character;
      text.remove_prefix(decoded->length);
    } else {
      c = from_windows_1252(static_cast<unsigned char>(text.front()));
      text.remove_prefix(1);
    }
    const std::size_t before = out.size();
    if (c == '\t' || c == '\n' || c == '\r') {
      out += ' ';
    } else {
      append_utf8(out, is_unsafe(c) ? 0xFFFD : c);
    }
    if (out.size() > max_bytes) {
      out.resize(before);
      out += "\xE2\x80\xA6";  // …
      break;
    }
  }
  return out;
}

std::string csv_cell(std::string_view text) {
  std::string cell;
  constexpr std::string_view kFormulaStarts = "=+-@\t\r";
  if (!text.empty() && kFormulaStarts.find(text.front()) != text.npos &&
      !parse_number(text)) {
    cell += '\'';
  }
  cell += text;
  if (cell.find_first_of(",;\"\r\n\t|") == std::string::npos) return cell;
  std::string quoted = "\"";
  for (char c : cell) {
    if (c == '"') quoted += '"';
    quoted += c;
  }
  return quoted + '"';
}

std::string html(std::string_view text) {
  std::string out;
  out.reserve(text.size());
  for (char c : text) {
    switch (c) {
      case '&':
        out += "&amp;";
        break;
      case '<':
        out += "&lt;";
        break;
      case '>':
        out += "&gt;";
        break;
      case '"':
        out += "&quot;";
        break;
      case '\'':
        out += "&#39;";
        break;
      default:
        out += c;
    }
  }
  return out;
}

}  // namespace telltale::host
