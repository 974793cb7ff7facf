#include "ingest/text_encoding.hpp"

#include <random>
#include <string>
#include <vector>

#include "catch.hpp"
#include "log_writer.hpp"

namespace telltale::host {
namespace {

std::string decode(Encoding encoding, const std::string& bytes,
                   std::size_t step) {
  TextDecoder decoder(encoding);
  std::string out;
  std::vector<char> room(TextDecoder::room_for(bytes.size()));
  for (std::size_t at = 0; at <= bytes.size(); at += step) {
    const std::string_view piece = std::string_view(bytes).substr(at, step);
    const bool last = at + step > bytes.size();
    out.append(room.data(), decoder.decode(piece, room.data(), last));
  }
  return out;
}

TEST_CASE("encodings are told by mark, zeros and well-formedness") {
  using test::encode;
  using test::WideEncoding;
  const std::string text = "Zeit;\xC3\x96ldruck \xC2\xB0\r\n08:00;4,1\r\n";
  CHECK(guess_encoding(text).encoding == Encoding::utf8);
  CHECK(guess_encoding(encode(text, WideEncoding::utf8_bom)).mark_bytes == 3);
  CHECK(guess_encoding(encode(text, WideEncoding::utf16le)).encoding ==
        Encoding::utf16le);
  CHECK(guess_encoding(encode(text, WideEncoding::utf16be)).encoding ==
        Encoding::utf16be);
  // Without their marks.
  CHECK(
      guess_encoding(encode(text, WideEncoding::utf16le).substr(2)).encoding ==
      Encoding::utf16le);
  CHECK(
      guess_encoding(encode(text, WideEncoding::utf16be).substr(2)).encoding ==
      Encoding::utf16be);
  CHECK(guess_encoding(encode(text, WideEncoding::latin1)).encoding ==
        Encoding::latin1);
  CHECK(guess_encoding("5 \x80 and \x96").encoding == Encoding::windows1252);
  // A character that the end of the sample cuts is no Latin-1.
  CHECK(guess_encoding("\xC3\xB6\xC3").encoding == Encoding::utf8);
  CHECK(guess_encoding("").encoding == Encoding::utf8);
}

TEST_CASE("text comes out the same in pieces of any size") {
  const std::string text = "a\xC3\xB6\xC2\xB0,\xC3\x96l\r\n";
  for (std::size_t step : {1U, 2U, 3U, 5U, 100U}) {
    CHECK(decode(Encoding::utf16le,
                 test::encode(text, test::WideEncoding::utf16le).substr(2),
                 step) == text);
    CHECK(decode(Encoding::utf16be,
                 test::encode(text, test::WideEncoding::utf16be).substr(2),
                 step) == text);
    CHECK(decode(Encoding::latin1,
                 test::encode(text, test::WideEncoding::latin1), step) == text);
  }
}

// Unicode standard, table 3-5: U+1F6A2 is D83D DEA2.
TEST_CASE("surrogates pair up; halves are replaced") {
  const std::string ship("\x3D\xD8\xA2\xDE", 4);
  CHECK(decode(Encoding::utf16le, ship, 1) == "\xF0\x9F\x9A\xA2");
  CHECK(decode(Encoding::utf16le, ship.substr(2), 100) == "\xEF\xBF\xBD");
  CHECK(decode(Encoding::utf16le, ship.substr(0, 2), 100) == "\xEF\xBF\xBD");
  CHECK(decode(Encoding::utf16le, ship.substr(0, 3), 100) == "\xEF\xBF\xBD");
}

TEST_CASE("one-byte encodings go back byte for byte") {
  std::string bytes;
  for (int b = 1; b < 256; ++b) bytes += static_cast<char>(b);
  for (Encoding encoding : {Encoding::latin1, Encoding::windows1252}) {
    CHECK(encode_back(decode(encoding, bytes, 7), encoding) == bytes);
  }
}

TEST_CASE("names of encodings are understood in many spellings") {
  CHECK(encoding_named("latin-1") == Encoding::latin1);
  CHECK(encoding_named("ISO-8859-1") == Encoding::latin1);
  CHECK(encoding_named("CP1252") == Encoding::windows1252);
  CHECK(encoding_named("UTF_8") == Encoding::utf8);
  CHECK_FALSE(encoding_named("ebcdic"));
  for (Encoding e : {Encoding::utf8, Encoding::utf16le, Encoding::utf16be,
                     Encoding::latin1, Encoding::windows1252}) {
    CHECK(encoding_named(name_of(e)) == e);
  }
}

}  // namespace
}  // namespace telltale::host
