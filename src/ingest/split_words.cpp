// Splitting of headers.
#include "ingest/split_words.hpp"

#include <algorithm>
#include <cstddef>

#include "ingest/fold_letters.hpp"

namespace telltale::host {
namespace {

bool is_digit(char c) { return c >= '0' && c <= '9'; }
bool is_upper(char c) { return c >= 'A' && c <= 'Z'; }
bool is_lower(char c) { return c >= 'a' && c <= 'z'; }
bool is_high(char c) { return static_cast<unsigned char>(c) >= 0x80; }
bool is_letter(char c) { return is_upper(c) || is_lower(c) || is_high(c); }

// Units and formulas whose spelling changes case inside; 0 where none stands at
// `at`.
std::size_t unit_with_hump(std::string_view text, std::size_t at) {
  for (std::string_view unit :
       {"kVArh", "kVAr", "kvar", "kVA", "kWh", "kWe", "kW", "kPa", "hPa", "MPa",
        "mVA", "mV", "mA", "kV", "degC", "degF", "inHg", "H2O"}) {
    if (!text.substr(at).starts_with(unit)) continue;
    const std::size_t after = at + unit.size();
    if (after < text.size() && is_lower(text[after])) continue;
    // "Alarm", "Temp": not in the middle of a word of small letters.
    if (at > 0 && is_lower(text[at - 1]) && is_lower(text[at]) &&
        is_lower(text[std::min(at + 1, text.size() - 1)])) {
      continue;
    }
    return unit.size();
  }
  return 0;
}

}  // namespace

std::vector<std::string> split_words(std::string_view text) {
  std::vector<std::string> words;
  std::string word;
  const auto finish = [&] {
    if (!word.empty()) words.push_back(fold_letters(word));
    word.clear();
  };
  for (std::size_t i = 0; i < text.size(); ++i) {
    const char c = text[i];
    if (const std::size_t length = unit_with_hump(text, i); length > 0) {
      finish();
      words.push_back(fold_letters(text.substr(i, length)));
      i += length - 1;
      continue;
    }
    if (c == '%') {
      finish();
      words.emplace_back("percent");
      continue;
    }
    // The degree sign goes with the letter behind it and adds nothing.
    if (c == '\xC2' && i + 1 < text.size() &&
        (text[i + 1] == '\xB0' || text[i + 1] == '\xBA')) {
      finish();
      ++i;
      continue;
    }
    if (!is_letter(c) && !is_digit(c)) {
      // "A.C.", "L.O.", "No.": a point within an abbreviation.
      const bool abbreviation =
          c == '.' && word.size() == 1 && i + 1 < text.size() &&
          is_letter(text[i + 1]) && is_letter(word.front()) &&
          (i + 2 >= text.size() || text[i + 2] == '.' || text[i + 2] == ' ');
      if (!abbreviation) finish();
      continue;
    }
    if (!word.empty()) {
      const char last = word.back();
      const bool hump = is_lower(last) && is_upper(c);
      // "RPMEngine", "OILPress": the last capital belongs to the next word.
      const bool after_capitals = is_upper(last) && is_lower(c) &&
                                  word.size() > 2 &&
                                  is_upper(word[word.size() - 2]);
      const bool after_number =
          is_digit(last) && is_letter(c) && (is_upper(c) || word.size() > 3);
      if (hump || after_number) {
        finish();
      } else if (after_capitals) {
        const char capital = word.back();
        word.pop_back();
        finish();
        word = capital;
      }
    }
    word += c;
  }
  finish();
  return words;
}

}  // namespace telltale::host
