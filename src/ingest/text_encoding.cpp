// Encoding detection and decoding.
#include "ingest/text_encoding.hpp"

#include <algorithm>
#include <array>
#include <cctype>
#include <cstring>

#include "support/safe_text.hpp"

namespace telltale::host {
namespace {

struct Name {
  std::string_view text;
  Encoding encoding;
};
constexpr std::array kNames = {
    Name{"utf-8", Encoding::utf8},
    Name{"utf-16le", Encoding::utf16le},
    Name{"utf-16be", Encoding::utf16be},
    Name{"latin-1", Encoding::latin1},
    Name{"windows-1252", Encoding::windows1252},
    Name{"utf8", Encoding::utf8},
    Name{"ascii", Encoding::utf8},
    Name{"us-ascii", Encoding::utf8},
    Name{"utf-8-sig", Encoding::utf8},
    Name{"utf-16", Encoding::utf16le},
    Name{"utf16", Encoding::utf16le},
    Name{"utf16le", Encoding::utf16le},
    Name{"utf16be", Encoding::utf16be},
    Name{"latin1", Encoding::latin1},
    Name{"iso-8859-1", Encoding::latin1},
    Name{"iso8859-1", Encoding::latin1},
    Name{"iso-8859-15", Encoding::latin1},
    Name{"cp1252", Encoding::windows1252},
    Name{"ansi", Encoding::windows1252},
};

// A one-byte encoding's character, written to `out`.
std::size_t put(char* out, char32_t c) {
  std::string one;
  append_utf8(one, c);
  std::copy(one.begin(), one.end(), out);
  return one.size();
}

// Drops up to three bytes of a character that the end of `text` cuts.
std::string_view without_cut_character(std::string_view text) {
  for (std::size_t back = 1; back <= 3 && back <= text.size(); ++back) {
    const auto byte = static_cast<unsigned char>(text[text.size() - back]);
    if ((byte & 0xC0U) == 0x80U) continue;
    const std::size_t wants = byte >= 0xF0U   ? 4
                              : byte >= 0xE0U ? 3
                              : byte >= 0xC0U ? 2
                                              : 1;
    if (wants > back) text.remove_suffix(back);
    break;
  }
  return text;
}

std::optional<Encoding> utf16_by_zeros(std::string_view head) {
  // Text of Western languages in UTF-16 has a zero in every other byte.
  const std::size_t pairs = std::min<std::size_t>(head.size(), 4096) / 2;
  if (pairs < 2) return std::nullopt;
  std::size_t first = 0;
  std::size_t second = 0;
  std::size_t both = 0;
  for (std::size_t i = 0; i < pairs; ++i) {
    const bool a = head[2 * i] == '\0';
    const bool b = head[2 * i + 1] == '\0';
    first += a && !b;
    second += b && !a;
    both += a && b;
  }
  if (both * 10 > pairs) return std::nullopt;
  if (second * 10 > pairs * 7 && first * 20 < pairs) return Encoding::utf16le;
  if (first * 10 > pairs * 7 && second * 20 < pairs) return Encoding::utf16be;
  return std::nullopt;
}

}  // namespace

std::string_view name_of(Encoding encoding) {
  for (const Name& name : kNames) {
    if (name.encoding == encoding) return name.text;
  }
  return "utf-8";
}

std::optional<Encoding> encoding_named(std::string_view name) {
  std::string lower(name);
  std::transform(lower.begin(), lower.end(), lower.begin(), [](char c) {
    return c == '_'
               ? '-'
               : static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
  });
  for (const Name& known : kNames) {
    if (known.text == lower) return known.encoding;
  }
  return std::nullopt;
}

EncodingGuess guess_encoding(std::string_view head) {
  if (head.starts_with("\xEF\xBB\xBF")) return {Encoding::utf8, 3};
  if (head.starts_with("\xFF\xFE")) return {Encoding::utf16le, 2};
  if (head.starts_with("\xFE\xFF")) return {Encoding::utf16be, 2};
  if (const auto wide = utf16_by_zeros(head)) return {*wide, 0};
  if (is_utf8(without_cut_character(head))) return {Encoding::utf8, 0};
  // 0x80..0x9F are unused control codes in Latin-1, letters in Windows-1252.
  const bool windows = std::any_of(head.begin(), head.end(), [](char c) {
    const auto byte = static_cast<unsigned char>(c);
    return byte >= 0x80U && byte < 0xA0U;
  });
  return {windows ? Encoding::windows1252 : Encoding::latin1, 0};
}

std::size_t TextDecoder::decode(std::string_view in, char* out, bool last) {
  if (in.empty() && !last) return 0;
  switch (encoding_) {
    case Encoding::utf8:
      std::copy(in.begin(), in.end(), out);
      return in.size();
    case Encoding::utf16le:
    case Encoding::utf16be:
      return decode_utf16(in, out, last);
    case Encoding::latin1:
    case Encoding::windows1252:
      break;
  }
  char* to = out;
  for (char c : in) {
    const auto byte = static_cast<unsigned char>(c);
    if (byte < 0x80) {
      *to++ = c;
    } else {
      to += put(to, encoding_ == Encoding::windows1252 ? from_windows_1252(byte)
                                                       : char32_t{byte});
    }
  }
  return static_cast<std::size_t>(to - out);
}

std::size_t TextDecoder::decode_utf16(std::string_view in, char* out,
                                      bool last) {
  constexpr char32_t kReplacement = 0xFFFD;
  char* to = out;
  std::size_t i = 0;
  const auto next_unit = [&](std::uint16_t& unit) {
    if (i + (half_unit_ ? 0 : 1) >= in.size()) {
      if (i < in.size()) {
        half_ = static_cast<unsigned char>(in[i++]);
        half_unit_ = true;
      }
      return false;
    }
    const auto first = half_unit_ ? half_ : static_cast<unsigned char>(in[i++]);
    const auto second = static_cast<unsigned char>(in[i++]);
    half_unit_ = false;
    const unsigned value = encoding_ == Encoding::utf16le
                               ? first | (unsigned{second} << 8)
                               : second | (unsigned{first} << 8);
    unit = static_cast<std::uint16_t>(value);
    return true;
  };
  std::uint16_t unit = 0;
  while (next_unit(unit)) {
    const bool high = unit >= 0xD800 && unit < 0xDC00;
    const bool low = unit >= 0xDC00 && unit < 0xE000;
    if (high_surrogate_ != 0) {
      const char32_t lead = high_surrogate_;
      high_surrogate_ = 0;
      if (low) {
        to += put(to, 0x10000 + ((lead - 0xD800) << 10) + (unit - 0xDC00));
        continue;
      }
      to += put(to, kReplacement);
    }
    if (high) {
      high_surrogate_ = unit;
    } else {
      to += put(to, low ? kReplacement : char32_t{unit});
    }
  }
  if (last && (half_unit_ || high_surrogate_ != 0)) {
    half_unit_ = false;
    high_surrogate_ = 0;
    to += put(to, kReplacement);
  }
  return static_cast<std::size_t>(to - out);
}

std::string encode_back(std::string_view text, Encoding encoding) {
  if (encoding != Encoding::latin1 && encoding != Encoding::windows1252) {
    return std::string(text);
  }
  std::string bytes;
  while (!text.empty()) {
    // Every byte 0x80..0xFF decoded to one character; find it again.
    const auto lead = static_cast<unsigned char>(text.front());
    if (lead < 0x80) {
      bytes += text.front();
      text.remove_prefix(1);
      continue;
    }
    bool found = false;
    for (unsigned byte = 0x80; byte <= 0xFF && !found; ++byte) {
      std::string one;
      append_utf8(one, encoding == Encoding::windows1252
                           ? from_windows_1252(static_cast<unsigned char>(byte))
                           : char32_t{byte});
      if (text.starts_with(one)) {
        bytes += static_cast<char>(byte);
        text.remove_prefix(one.size());
        found = true;
      }
    }
    if (!found) {
      bytes += text.front();
      text.remove_prefix(1);
    }
  }
  return bytes;
}

}  // namespace telltale::host
