// Strict number reading on top of fast_float.
#include "support/number.hpp"

#include <fast_float/fast_float.h>

#include <array>
#include <cmath>
#include <cstddef>
#include <cstdint>

namespace telltale::host {
namespace {

bool is_digit(char c) { return c >= '0' && c <= '9'; }

// Where the number that starts at `begin` ends, or nullptr. A leading '+' is
// the one thing fast_float refuses and loggers write.
const char* number_end(const char* begin, const char* end, char decimal,
                       double& value) noexcept {
  if (begin != end && *begin == '+') {
    ++begin;
    if (begin == end || *begin == '-' || *begin == '+') return nullptr;
  }
  // "inf", "nan" and their kin start with a letter; a number never does.
  const char* first = begin != end && *begin == '-' ? begin + 1 : begin;
  if (first == end || (!is_digit(*first) && *first != decimal)) return nullptr;
  const fast_float::parse_options options(fast_float::chars_format::general,
                                          decimal);
  const auto answer =
      fast_float::from_chars_advanced(begin, end, value, options);
  if (answer.ec != std::errc() || !std::isfinite(value)) return nullptr;
  return answer.ptr;
}

// The quick way for the short decimals that loggers write ("1802", "-60.14").
// A whole number below 2^53 and a power of ten up to 10^22 are exact as
// doubles, so that their quotient is rounded once, as it must be (W. D.
// Clinger, How to read floating point numbers accurately, 1990). False, with
// nothing read, for everything else; fast_float then decides.
bool read_short_decimal(const char* at, const char* end, char decimal,
                        double& value) noexcept {
  constexpr std::array kPowers = {1e0, 1e1, 1e2,  1e3,  1e4,  1e5,  1e6,  1e7,
                                  1e8, 1e9, 1e10, 1e11, 1e12, 1e13, 1e14, 1e15};
  constexpr std::ptrdiff_t kMostCharacters = 15;  // 10^15 < 2^53
  const bool negative = at != end && *at == '-';
  at += negative;
  const std::ptrdiff_t length = end - at;
  if (length < 1 || length > kMostCharacters) return false;
  std::uint64_t whole = 0;
  const char* const first = at;
  while (at != end && is_digit(*at)) {
    whole = whole * 10 + static_cast<unsigned>(*at - '0');
    ++at;
  }
  if (at == first) return false;
  if (at != end) {
    if (*at != decimal) return false;
    const char* const fraction = ++at;
    while (at != end && is_digit(*at)) {
      whole = whole * 10 + static_cast<unsigned>(*at - '0');
      ++at;
    }
    if (at != end || at == fraction) return false;
    value = static_cast<double>(whole) /
            kPowers[static_cast<std::size_t>(at - fraction)];
  } else {
    value = static_cast<double>(whole);
  }
  if (negative) value = -value;
  return true;
}

// Blanks that loggers and spreadsheets put between thousands, in UTF-8:
// space, no-break space, narrow no-break space, thin space, apostrophes.
constexpr std::array<std::string_view, 6> kNeutralSeparators = {
    " ", "\xC2\xA0", "\xE2\x80\xAF", "\xE2\x80\x89", "'", "\xE2\x80\x99"};

}  // namespace

bool read_number(const char* begin, const char* end, char decimal,
                 double& value) noexcept {
  if (read_short_decimal(begin, end, decimal, value)) return true;
  const char* stop = number_end(begin, end, decimal, value);
  return stop == end && stop != nullptr;
}

std::optional<double> parse_number(std::string_view text, char decimal) {
  double value = 0;
  if (!read_number(text.data(), text.data() + text.size(), decimal, value)) {
    return std::nullopt;
  }
  return value;
}

std::optional<double> parse_grouped_number(std::string_view text, char decimal,
                                           Grouping grouping) {
  std::array<char, 40> plain{};
  std::size_t length = 0;
  std::size_t i = 0;
  if (i < text.size() && (text[i] == '-' || text[i] == '+')) {
    plain[length++] = text[i++];
  }
  std::string_view separator;
  const char grouping_mark = decimal == ',' ? '.' : ',';
  std::size_t groups = 0;
  std::size_t digits = 0;
  while (i < text.size() && text[i] != decimal) {
    if (length + 2 >= plain.size()) return std::nullopt;
    if (is_digit(text[i])) {
      if (++digits > 3) return std::nullopt;
      plain[length++] = text[i++];
      continue;
    }
    const std::string_view rest = text.substr(i);
    std::string_view found;
    if (rest.front() == grouping_mark) found = rest.substr(0, 1);
    for (std::string_view neutral : kNeutralSeparators) {
      if (rest.starts_with(neutral)) found = neutral;
    }
    if (found.empty() || (!separator.empty() && found != separator) ||
        digits == 0 || (groups > 0 && digits != 3)) {
      return std::nullopt;
    }
    separator = found;
    i += found.size();
    ++groups;
    digits = 0;
  }
  if (groups == 0 || digits != 3) return std::nullopt;
  const bool has_fraction = i < text.size();
  const bool looks_like_decimal = separator.size() == 1 &&
                                  separator.front() == grouping_mark &&
                                  groups == 1 && !has_fraction;
  if (looks_like_decimal && grouping != Grouping::proven) return std::nullopt;
  if (has_fraction) {
    plain[length++] = '.';
    ++i;
    for (; i < text.size(); ++i) {
      if (!is_digit(text[i]) || length + 1 >= plain.size()) return std::nullopt;
      plain[length++] = text[i];
    }
  }
  return parse_number({plain.data(), length});
}

std::optional<NumberWithSuffix> parse_number_prefix(std::string_view text,
                                                    char decimal) {
  double value = 0;
  const char* end = text.data() + text.size();
  const char* stop = number_end(text.data(), end, decimal, value);
  if (stop == nullptr) return std::nullopt;
  std::string_view rest(stop, static_cast<std::size_t>(end - stop));
  while (!rest.empty() && (rest.front() == ' ' || rest.front() == '\t')) {
    rest.remove_prefix(1);
  }
  return NumberWithSuffix{value, rest};
}

}  // namespace telltale::host
