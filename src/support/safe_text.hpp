// Text taken from a log, made safe to show: terminal, JSON, CSV, HTML.
#pragma once

#include <string>
#include <string_view>

namespace telltale::host {

/// Valid UTF-8 without control characters (terminal escapes, line breaks,
/// direction overrides): each becomes a blank or U+FFFD. Bytes that are no
/// UTF-8 are taken as Windows-1252. At most `max_bytes` bytes; a longer text is
/// cut at a character and ends in "…".
std::string printable(std::string_view text, std::size_t max_bytes = 400);

/// One CSV cell: quoted where it must be (RFC 4180), and a text that a
/// spreadsheet would take for a formula (=, +, -, @ in front, unless it is a
/// number) is led by an apostrophe.
std::string csv_cell(std::string_view text);

/// Text for HTML content and attribute values: & < > " ' escaped.
std::string html(std::string_view text);

/// Whether all of `text` is well-formed UTF-8 (RFC 3629: no overlong forms,
/// no surrogates, nothing above U+10FFFF).
bool is_utf8(std::string_view text);

/// Appends one character to `out` in UTF-8; U+FFFD where it is no character.
void append_utf8(std::string& out, char32_t character);

/// The character that byte 0x80..0xFF means in Windows-1252 (the WHATWG
/// encoding standard's table, index-windows-1252).
char32_t from_windows_1252(unsigned char byte);

}  // namespace telltale::host
