// The encodings a log may be written in, and their change to UTF-8.
#pragma once

#include <cstddef>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>

namespace telltale::host {

enum class Encoding : std::uint8_t {
  utf8,  // and plain ASCII
  utf16le,
  utf16be,
  latin1,
  windows1252
};

/// The encoding's name in JSON and maps: "utf-8", "utf-16le", "latin-1", ...
std::string_view name_of(Encoding encoding);
/// The encoding of a name; usual other spellings ("iso-8859-1", "cp1252",
/// "ascii") and any case are accepted. Plain "utf-16" is little-endian.
std::optional<Encoding> encoding_named(std::string_view name);

struct EncodingGuess {
  Encoding encoding = Encoding::utf8;
  std::size_t mark_bytes = 0;  // length of the byte-order mark, 0 without one
};

/// Decides by byte-order mark, by the zero bytes of UTF-16, and by whether the
/// bytes are well-formed UTF-8. `head` may end within a character.
EncodingGuess guess_encoding(std::string_view head);

/// Turns bytes into UTF-8, piece by piece. What is no character becomes
/// U+FFFD; UTF-8 passes through untouched, well-formed or not.
class TextDecoder {
 public:
  explicit TextDecoder(Encoding encoding) : encoding_(encoding) {}

  /// The most bytes that `bytes` bytes of input can become.
  [[nodiscard]] static constexpr std::size_t room_for(std::size_t bytes) {
    return bytes * 3 + 8;
  }

  /// Decodes `in` to `out`; returns the bytes written. An incomplete character
  /// at the end waits for the next call; `last` says that there is none.
  /// REQUIRES: room for room_for(in.size()) at `out`
  std::size_t decode(std::string_view in, char* out, bool last);

 private:
  std::size_t decode_utf16(std::string_view in, char* out, bool last);

  Encoding encoding_;
  std::uint16_t high_surrogate_ = 0;  // waits for its low half
  bool half_unit_ = false;            // one byte of a code unit waits
  unsigned char half_ = 0;
};

/// `text` (UTF-8) back in `encoding` where that is a one-byte encoding, byte
/// for byte what it was decoded from; otherwise unchanged.
std::string encode_back(std::string_view text, Encoding encoding);

}  // namespace telltale::host
