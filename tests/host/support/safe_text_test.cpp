#include "support/safe_text.hpp"

#include "catch.hpp"

namespace telltale::host {
namespace {

TEST_CASE("no control sequence gets through to a terminal") {
  CHECK(printable("Oil \x1B[31mred\x1B[0m") ==
        "Oil \xEF\xBF\xBD[31mred\xEF\xBF\xBD[0m");
  CHECK(printable("a\tb\nc\rd") == "a b c d");
  CHECK(printable(std::string("a\0b", 3)) ==
        "a\xEF\xBF\xBD"
        "b");
  CHECK(printable("\xC2\x9B"  // the one-byte form of ESC [
                  "2J") ==
        "\xEF\xBF\xBD"
        "2J");
  // Right-to-left override: shows "gpj.exe" as "exe.jpg".
  CHECK(printable("a\xE2\x80\xAE"
                  "b") ==
        "a\xEF\xBF\xBD"
        "b");
}

TEST_CASE("bytes that are no UTF-8 count as Windows-1252") {
  CHECK(printable("80\xB0"
                  "C") ==
        "80\xC2\xB0"
        "C");
  CHECK(printable("\x80") == "\xE2\x82\xAC");
  CHECK(printable("\xC3\xB6l") == "\xC3\xB6l");
}

TEST_CASE("long texts are cut between characters") {
  const std::string cut =
      printable(std::string(50, 'x') + "\xC3\xB6\xC3\xB6", 51);
  CHECK(cut == std::string(50, 'x') + "\xE2\x80\xA6");
  CHECK(is_utf8(cut));
}

// RFC 3629 section 3 and 10: overlong forms and surrogates are no UTF-8.
TEST_CASE("well-formed UTF-8 is told from other bytes") {
  CHECK(is_utf8("plain"));
  CHECK(is_utf8("\xC3\xB6 \xE2\x82\xAC \xF0\x9F\x9A\xA2"));
  CHECK_FALSE(is_utf8("\xC0\xAF"));
  CHECK_FALSE(is_utf8("\xE0\x80\xAF"));
  CHECK_FALSE(is_utf8("\xED\xA0\x80"));
  CHECK_FALSE(is_utf8("\xF4\x90\x80\x80"));
  CHECK_FALSE(is_utf8("\xC3"));
  CHECK_FALSE(is_utf8("\x80"));
}

// RFC 4180 rules 5 to 7.
TEST_CASE("CSV cells are quoted where they must be") {
  CHECK(csv_cell("plain") == "plain");
  CHECK(csv_cell("a,b") == "\"a,b\"");
  CHECK(csv_cell("say \"so\"") == "\"say \"\"so\"\"\"");
  CHECK(csv_cell("a\nb") == "\"a\nb\"");
}

TEST_CASE("a spreadsheet takes no cell for a formula") {
  CHECK(csv_cell("=1+1") == "'=1+1");
  CHECK(csv_cell("+cmd") == "'+cmd");
  CHECK(csv_cell("@sum") == "'@sum");
  CHECK(csv_cell("-2+3") == "'-2+3");
  CHECK(csv_cell("-12.5") == "-12.5");
}

TEST_CASE("HTML is escaped") {
  CHECK(html("<b a=\"1\">&'") == "&lt;b a=&quot;1&quot;&gt;&amp;&#39;");
}

// index-windows-1252 of the WHATWG encoding standard.
TEST_CASE("Windows-1252 has its letters where Latin-1 has controls") {
  CHECK(from_windows_1252(0x80) == U'\u20AC');
  CHECK(from_windows_1252(0x96) == U'\u2013');
  CHECK(from_windows_1252(0xB0) == U'\u00B0');
}

}  // namespace
}  // namespace telltale::host
