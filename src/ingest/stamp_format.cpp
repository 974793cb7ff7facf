// The plain stamp parser.
#include "ingest/stamp_format.hpp"

#include <algorithm>
#include <array>
#include <cstddef>

#include "ingest/calendar_words.hpp"
#include "support/civil_time.hpp"

namespace telltale::host {
namespace {

bool is_digit(char c) { return c >= '0' && c <= '9'; }
bool is_blank(char c) { return c == ' ' || c == '\t'; }

// What a parse has gathered so far.
struct Gathered {
  int year = 1970;
  int month = 1;
  int day = 1;
  int hour = 0;
  int minute = 0;
  int second = 0;
  int ms = 0;
  int afternoon = -1;  // 0 AM, 1 PM
  int offset_min = 0;
  bool zoned = false;
};

class Scanner {
 public:
  explicit Scanner(std::string_view text) : text_(text) {}

  [[nodiscard]] bool done() const { return at_ == text_.size(); }
  [[nodiscard]] std::size_t at() const { return at_; }
  [[nodiscard]] char peek() const { return done() ? '\0' : text_[at_]; }
  [[nodiscard]] std::string_view rest() const { return text_.substr(at_); }
  void skip(std::size_t count) { at_ += count; }

  bool number(std::size_t least, std::size_t most, int& value) {
    std::size_t digits = 0;
    value = 0;
    while (digits < most && !done() && is_digit(text_[at_])) {
      value = value * 10 + (text_[at_] - '0');
      ++at_;
      ++digits;
    }
    return digits >= least;
  }

  // Digits after the point as milliseconds; more digits are dropped.
  bool fraction(int& ms) {
    int scale = 100;
    std::size_t digits = 0;
    ms = 0;
    while (!done() && is_digit(text_[at_])) {
      ms += (text_[at_] - '0') * scale;
      scale /= 10;
      ++at_;
      ++digits;
    }
    return digits > 0;
  }

  void blanks() {
    while (!done() && is_blank(text_[at_])) ++at_;
  }

  // Letters, also beyond ASCII, and a point after them.
  std::string_view word() {
    const std::size_t from = at_;
    while (!done()) {
      const auto c = static_cast<unsigned char>(text_[at_]);
      const bool letter =
          (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || c >= 0x80;
      if (!letter) break;
      ++at_;
    }
    const std::string_view found = text_.substr(from, at_ - from);
    if (!found.empty() && peek() == '.') ++at_;
    return found;
  }

 private:
  std::string_view text_;
  std::size_t at_ = 0;
};

bool read_half_of_day(Scanner& scanner, int& afternoon) {
  std::array<char, 2> letters{};
  std::size_t count = 0;
  while (count < 2 && !scanner.done()) {
    const char c = scanner.peek();
    letters[count++] = static_cast<char>(c | 0x20);
    scanner.skip(1);
    if (scanner.peek() == '.') scanner.skip(1);
  }
  if (count != 2 || letters[1] != 'm') return false;
  if (letters[0] != 'a' && letters[0] != 'p') return false;
  afternoon = letters[0] == 'p';
  return true;
}

}  // namespace

std::optional<StampFormat> StampFormat::compile(std::string_view pattern) {
  StampFormat format;
  format.pattern_ = pattern;
  bool year = false;
  bool month = false;
  bool day = false;
  for (std::size_t i = 0; i < pattern.size(); ++i) {
    const char c = pattern[i];
    if (c != '%') {
      if (is_blank(c)) {
        if (format.items_.empty() || format.items_.back().what != ' ') {
          format.items_.push_back({' ', ' ', false});
        }
      } else {
        format.items_.push_back({'=', c, false});
      }
      continue;
    }
    if (++i == pattern.size()) return std::nullopt;
    char what = pattern[i];
    if (what == '%') {
      format.items_.push_back({'=', '%', false});
      continue;
    }
    if (what == 'B') what = 'b';
    if (what == 'A') what = 'a';
    if (what == 'T') {  // %T is %H:%M:%S
      for (char part : {'H', ':', 'M', ':', 'S'}) {
        const bool literal = part == ':';
        format.items_.push_back({literal ? '=' : part, part, false});
      }
      format.has_clock_ = true;
      continue;
    }
    constexpr std::string_view kKnown = "YymdbaHIMSfpz";
    if (kKnown.find(what) == kKnown.npos) return std::nullopt;
    year |= what == 'Y' || what == 'y';
    month |= what == 'm' || what == 'b';
    day |= what == 'd';
    format.has_clock_ |= what == 'H' || what == 'I';
    format.twelve_hour_ |= what == 'I';
    format.has_zone_ |= what == 'z';
    format.items_.push_back({what, '\0', false});
  }
  // A pattern of digits without anything between has fixed widths.
  constexpr std::string_view kNumbers = "YymdHIMS";
  const auto is_number = [&](std::size_t i) {
    return i < format.items_.size() &&
           kNumbers.find(format.items_[i].what) != kNumbers.npos;
  };
  for (std::size_t i = 0; i < format.items_.size(); ++i) {
    const bool glued = is_number(i + 1) || (i > 0 && is_number(i - 1));
    format.items_[i].fixed = is_number(i) && glued;
  }
  format.has_date_ = year && month && day;
  if ((year || month || day) && !format.has_date_) return std::nullopt;
  if (!format.has_date_ && !format.has_clock_) return std::nullopt;
  return format;
}

bool StampFormat::parse(std::string_view text, Stamp& stamp) const noexcept {
  Scanner scanner(text);
  Gathered got;
  stamp.clock_at = 0;
  for (const Item& item : items_) {
    const std::size_t least = item.fixed ? 2 : 1;
    bool ok = true;
    switch (item.what) {
      case '=':
        ok = scanner.peek() == item.literal && !scanner.done();
        if (ok) scanner.skip(1);
        break;
      case ' ':
        ok = is_blank(scanner.peek());
        scanner.blanks();
        break;
      case 'Y':
        ok = scanner.number(4, 4, got.year);
        break;
      case 'y':
        ok = scanner.number(2, 2, got.year);
        got.year += got.year < 69 ? 2000 : 1900;
        break;
      case 'm':
        ok = scanner.number(least, 2, got.month);
        break;
      case 'd':
        ok = scanner.number(least, 2, got.day);
        break;
      case 'b':
        got.month = month_of_word(scanner.word());
        ok = got.month != 0;
        break;
      case 'a':
        ok = is_weekday_word(scanner.word());
        break;
      case 'H':
      case 'I':
        stamp.clock_at = scanner.at();
        ok = scanner.number(least, 2, got.hour);
        break;
      case 'M':
        ok = scanner.number(least, 2, got.minute);
        break;
      case 'S':
        ok = scanner.number(least, 2, got.second);
        if (ok && (scanner.peek() == '.' || scanner.peek() == ',')) {
          scanner.skip(1);
          ok = scanner.fraction(got.ms);
        }
        break;
      case 'f':
        ok = scanner.fraction(got.ms);
        break;
      case 'p':
        scanner.blanks();
        ok = read_half_of_day(scanner, got.afternoon);
        break;
      case 'z': {
        scanner.blanks();
        const auto zone = parse_zone(scanner.rest());
        ok = zone.has_value();
        if (ok) {
          got.offset_min = *zone;
          got.zoned = true;
          scanner.skip(scanner.rest().size());
        }
        break;
      }
      default:
        ok = false;
    }
    if (!ok) return false;
  }
  if (!scanner.done()) return false;
  if (twelve_hour_) {
    if (got.hour < 1 || got.hour > 12 || got.afternoon < 0) return false;
    got.hour = got.hour % 12 + (got.afternoon == 1 ? 12 : 0);
  }
  const bool midnight =
      got.hour == 24 && got.minute == 0 && got.second == 0 && got.ms == 0;
  if ((got.hour > 23 && !midnight) || got.minute > 59 || got.second > 60) {
    return false;
  }
  if (!is_valid_date(got.year, got.month, got.day)) return false;
  stamp.ms = days_from_civil(got.year, got.month, got.day) * kMsPerDay +
             got.hour * kMsPerHour + got.minute * kMsPerMinute +
             got.second * kMsPerSecond + got.ms - got.offset_min * kMsPerMinute;
  stamp.has_zone = got.zoned;
  return true;
}

std::string StampFormat::in_words() const {
  std::string words;
  for (const Item& item : items_) {
    switch (item.what) {
      case 'Y':
        words += "YYYY";
        break;
      case 'y':
        words += "YY";
        break;
      case 'm':
        words += "MM";
        break;
      case 'd':
        words += "DD";
        break;
      case 'b':
        words += "Mon";
        break;
      case 'a':
        words += "Day";
        break;
      case 'H':
      case 'I':
        words += "hh";
        break;
      case 'M':
        words += "mm";
        break;
      case 'S':
        words += "ss";
        break;
      case 'f':
        words += "fff";
        break;
      case 'p':
        words += words.ends_with(' ') ? "AM/PM" : " AM/PM";
        break;
      case 'z':
        words += words.ends_with(' ') ? "zone" : "+zone";
        break;
      default:
        words += item.literal;
    }
  }
  return words;
}

}  // namespace telltale::host
