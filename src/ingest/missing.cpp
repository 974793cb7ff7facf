// Missing-value spellings. They come from controllers' screens (---, OPEN,
// FAULT), multimeters (OL), spreadsheets (#N/A, #VALUE!) and programs (NaN,
// null); all are common practice.
#include "ingest/missing.hpp"

#include <algorithm>
#include <array>
#include <cstddef>

namespace telltale::host {
namespace {

constexpr std::array<std::string_view, 61> kWords = {
    "n/a",         "na",          "n.a.",          "n.a",
    "#n/a",        "#na",         "nan",           "-nan",
    "+nan",        "nan(ind)",    "-nan(ind)",     "null",
    "nil",         "none",        "\\n",           "inf",
    "-inf",        "+inf",        "infinity",      "-infinity",
    "1.#inf",      "-1.#inf",     "1.#qnan",       "-1.#ind",
    "1.#ind",      "open",        "open circuit",  "short",
    "shorted",     "ol",          "o.l",           "o.l.",
    "o/l",         "over",        "over range",    "overrange",
    "under range", "underrange",  "err",           "error",
    "fault",       "fail",        "failed",        "bad",
    "invalid",     "unavailable", "not available", "no data",
    "nodata",      "no value",    "unknown",       "undefined",
    "missing",     "blank",       "void",          "#value!",
    "#ref!",       "#div/0!",     "#num!",         "#null!",
    "off line"};

char lower(char c) {
  return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
}

bool equals_folded(std::string_view text, std::string_view word) {
  return text.size() == word.size() &&
         std::equal(text.begin(), text.end(), word.begin(),
                    [](char a, char b) { return lower(a) == b; });
}

// Only marks: "---", "--.-", "??", "***", "…", "_".
bool is_only_marks(std::string_view text) {
  if (text == "\xE2\x80\xA6" || text == "\xE2\x80\x93" ||
      text == "\xE2\x80\x94") {
    return true;
  }
  return std::all_of(text.begin(), text.end(), [](char c) {
    return c == '-' || c == '?' || c == '*' || c == '_' || c == '.' ||
           c == '#' || c == '/' || c == ' ' || c == ':' || c == '~' ||
           c == '=' || c == '+';
  });
}

}  // namespace

bool is_missing_word(std::string_view text) {
  if (text.empty() || is_only_marks(text)) return true;
  // Brackets around the word: "<null>", "[none]", "(null)".
  const char first = text.front();
  if (text.size() > 2 && (first == '<' || first == '[' || first == '(')) {
    return is_missing_word(text.substr(1, text.size() - 2));
  }
  if (text.size() > 14) return false;
  return std::any_of(kWords.begin(), kWords.end(), [&](std::string_view word) {
    return equals_folded(text, word);
  });
}

bool is_left_out(std::string_view text) {
  if (text.empty()) return true;
  if (text.size() > 4) return false;
  constexpr std::array<std::string_view, 6> kLeftOut = {"nan", "null", "na",
                                                        "n/a", "none", "-"};
  return std::any_of(
      kLeftOut.begin(), kLeftOut.end(),
      [&](std::string_view word) { return equals_folded(text, word); });
}

}  // namespace telltale::host
