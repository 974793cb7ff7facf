// The fast stamp reader.
#include "ingest/stamp_reader.hpp"

#include <algorithm>
#include <bit>
#include <cmath>
#include <cstring>

#include "support/civil_time.hpp"
#include "support/number.hpp"

namespace telltale::host {
namespace {

bool is_digit(char c) { return c >= '0' && c <= '9'; }

// Days from 1899-12-30, a spreadsheet's day 0, to 1970-01-01.
constexpr std::int64_t kSerialTo1970 = -days_from_civil(1899, 12, 30);
constexpr std::int64_t kFirstMs = days_from_civil(1, 1, 1) * kMsPerDay;
constexpr std::int64_t kLastMs =
    (days_from_civil(9999, 12, 31) + 1) * kMsPerDay - 1;

struct CountName {
  std::string_view name;
  StampKind kind;
  double ms_per_count;
};
constexpr std::array kCounts = {
    CountName{"epoch s", StampKind::epoch, 1e3},
    CountName{"epoch ms", StampKind::epoch, 1.0},
    CountName{"epoch us", StampKind::epoch, 1e-3},
    CountName{"epoch ns", StampKind::epoch, 1e-6},
    CountName{"elapsed s", StampKind::elapsed, 1e3},
    CountName{"elapsed ms", StampKind::elapsed, 1.0},
    CountName{"elapsed us", StampKind::elapsed, 1e-3},
    CountName{"elapsed min", StampKind::elapsed, 6e4},
    CountName{"elapsed h", StampKind::elapsed, 3.6e6},
    CountName{"serial days", StampKind::serial, 8.64e7},
};
constexpr std::string_view kElapsedClock = "elapsed h:mm:ss";

int two_digits(const char* p) { return (p[0] - '0') * 10 + (p[1] - '0'); }

bool two_digits_at(std::string_view text, std::size_t at) {
  return at + 1 < text.size() && is_digit(text[at]) && is_digit(text[at + 1]);
}

// memcmp() == 0, without a call for the lengths of dates.
bool same_text(const char* a, const char* b, std::size_t n) {
  if (n < 8 || n > 16) return std::memcmp(a, b, n) == 0;
  std::uint64_t first[2];
  std::uint64_t last[2];
  std::memcpy(&first[0], a, 8);
  std::memcpy(&first[1], b, 8);
  std::memcpy(&last[0], a + n - 8, 8);
  std::memcpy(&last[1], b + n - 8, 8);
  return first[0] == first[1] && last[0] == last[1];
}

// The eight characters at `c` as a clock, "hh:mm:ss"; false, with nothing read,
// for any other text.
bool read_clock(const char* c, std::int64_t& ms) {
  if constexpr (std::endian::native != std::endian::little) return false;
  constexpr std::uint64_t kZero = 0x30303A30303A3030U;     // "00:00:00"
  constexpr std::uint64_t kToLimit = 0x76767F76767F7676U;  // from 9, or from 0
  constexpr std::uint64_t kHigh = 0x8080808080808080U;
  std::uint64_t text = 0;
  std::memcpy(&text, c, 8);
  const std::uint64_t digits = text ^ kZero;
  if (((((digits & ~kHigh) + kToLimit) | digits) & kHigh) != 0) return false;
  const std::uint64_t pairs = digits * 10 + (digits >> 8);
  const auto hour = static_cast<std::int64_t>(pairs & 0xFF);
  const auto minute = static_cast<std::int64_t>(pairs >> 24 & 0xFF);
  const auto second = static_cast<std::int64_t>(pairs >> 48 & 0xFF);
  if (hour > 23 || minute > 59 || second > 59) return false;
  ms = hour * kMsPerHour + minute * kMsPerMinute + second * kMsPerSecond;
  return true;
}

}  // namespace

std::optional<StampStyle> stamp_style_named(std::string_view format) {
  for (const CountName& count : kCounts) {
    if (count.name == format)
      return StampStyle{count.kind, "", count.ms_per_count};
  }
  if (format == kElapsedClock) {
    return StampStyle{StampKind::elapsed_clock, "", 1.0};
  }
  const auto pattern = StampFormat::compile(format);
  if (!pattern) return std::nullopt;
  const StampKind kind = !pattern->has_clock() ? StampKind::date
                         : pattern->has_date() ? StampKind::calendar
                                               : StampKind::clock;
  return StampStyle{kind, std::string(format), 1.0};
}

std::string name_of(const StampStyle& style) {
  if (style.kind == StampKind::elapsed_clock) return std::string(kElapsedClock);
  for (const CountName& count : kCounts) {
    if (count.kind == style.kind && count.ms_per_count == style.ms_per_count) {
      return std::string(count.name);
    }
  }
  return style.pattern;
}

std::optional<std::int64_t> parse_elapsed(std::string_view text) {
  const bool negative = text.starts_with('-');
  if (negative) text.remove_prefix(1);
  std::size_t i = 0;
  const auto number = [&](std::int64_t& value) {
    const std::size_t from = i;
    value = 0;
    while (i < text.size() && is_digit(text[i]) && i - from < 10) {
      value = value * 10 + (text[i++] - '0');
    }
    return i > from;
  };
  const auto skip_word = [&](std::string_view word) {
    if (text.substr(i).starts_with(word)) i += word.size();
  };
  std::int64_t first = 0;
  if (!number(first)) return std::nullopt;
  std::int64_t days = 0;
  if (i < text.size() && (text[i] == 'd' || text[i] == ' ' || text[i] == '.')) {
    // Days in front: "5 days 04:46:56", "1d 02:03:04", "1.02:03:04".
    const bool point = text[i] == '.';
    if (point) ++i;
    skip_word(" ");
    skip_word("days");
    skip_word("day");
    skip_word("d");
    skip_word(",");
    skip_word(" ");
    days = first;
    if (!number(first)) return std::nullopt;
    if (i == text.size()) return std::nullopt;
  }
  std::array<std::int64_t, 3> part = {first, 0, 0};
  std::size_t parts = 1;
  while (parts < 3 && i < text.size() && text[i] == ':') {
    ++i;
    const std::size_t from = i;
    if (!number(part[parts]) || i - from > 2 || part[parts] > 59) {
      return std::nullopt;
    }
    ++parts;
  }
  if (parts < 2) return std::nullopt;
  std::int64_t ms = 0;
  const bool fraction = i < text.size() && (text[i] == '.' || text[i] == ',');
  if (fraction) {
    ++i;
    int scale = 100;
    const std::size_t from = i;
    while (i < text.size() && is_digit(text[i])) {
      ms += (text[i++] - '0') * scale;
      scale /= 10;
    }
    if (i == from) return std::nullopt;
  }
  if (i != text.size()) return std::nullopt;
  // Two parts are h:mm; with a fraction they can only be mm:ss.f.
  const std::int64_t seconds = parts == 3
                                   ? (part[0] * 60 + part[1]) * 60 + part[2]
                               : fraction ? part[0] * 60 + part[1]
                                          : (part[0] * 60 + part[1]) * 60;
  const std::int64_t total = days * kMsPerDay + seconds * kMsPerSecond + ms;
  return negative ? -total : total;
}

std::optional<StampReader> StampReader::of(const StampStyle& style,
                                           char decimal) {
  StampReader reader;
  reader.style_ = style;
  reader.decimal_ = decimal;
  const bool patterned = style.kind == StampKind::calendar ||
                         style.kind == StampKind::date ||
                         style.kind == StampKind::clock;
  if (patterned) {
    reader.format_ = StampFormat::compile(style.pattern);
    if (!reader.format_) return std::nullopt;
  }
  return reader;
}

bool StampReader::read_plainly(std::string_view text, std::int64_t& ms,
                               bool& has_zone) const {
  has_zone = false;
  if (format_) {
    Stamp stamp;
    if (!format_->parse(text, stamp)) return false;
    ms = stamp.ms;
    has_zone = stamp.has_zone;
    return true;
  }
  if (style_.kind == StampKind::elapsed_clock) {
    const auto elapsed = parse_elapsed(text);
    if (!elapsed) return false;
    ms = *elapsed;
    return true;
  }
  double count = 0;
  if (!read_number(text.data(), text.data() + text.size(), decimal_, count)) {
    return false;
  }
  double value = count * style_.ms_per_count;
  if (style_.kind == StampKind::serial) {
    value = (count - static_cast<double>(kSerialTo1970)) * 8.64e7;
  }
  if (!(value >= static_cast<double>(kFirstMs) &&
        value <= static_cast<double>(kLastMs))) {
    return false;
  }
  ms = std::llround(value);
  has_zone = style_.kind == StampKind::epoch;
  return true;
}

bool StampReader::read(std::string_view text, std::int64_t& ms,
                       bool& has_zone) {
  if (format_ && text.size() == length_ && length_ > 0) {
    if (style_.kind == StampKind::date) {
      if (std::memcmp(text.data(), last_.data(), length_) == 0) {
        ms = last_ms_;
        has_zone = last_has_zone_;
        return true;
      }
    } else if (clock_at_ != kNoClock && read_like_last(text, ms)) {
      has_zone = last_has_zone_;
      return true;
    }
  }
  if (!format_) return read_plainly(text, ms, has_zone);
  Stamp stamp;
  if (!format_->parse(text, stamp)) return false;
  remember(text, stamp);
  ms = stamp.ms;
  has_zone = stamp.has_zone;
  return true;
}

// The last stamp's text with another clock, else false.
bool StampReader::read_like_last(std::string_view text,
                                 std::int64_t& ms) const {
  const char* const p = text.data();
  std::int64_t clock_ms = 0;
  if (!same_text(p, last_.data(), clock_at_) ||
      !read_clock(p + clock_at_, clock_ms)) {
    return false;
  }
  int fraction_ms = 0;
  std::size_t at = clock_at_ + 8;
  if (after_clock_ > at) {  // the last one had a fraction this long
    if (p[at] != last_[at]) return false;
    int scale = 100;
    for (++at; at < after_clock_; ++at) {
      if (!is_digit(p[at])) return false;
      fraction_ms += (p[at] - '0') * scale;
      scale /= 10;
    }
  }
  if (at != length_ && !same_text(p + at, last_.data() + at, length_ - at)) {
    return false;
  }
  ms = day_ms_ + clock_ms + fraction_ms;
  return true;
}

void StampReader::remember(std::string_view text, const Stamp& stamp) {
  clock_at_ = kNoClock;
  length_ = 0;
  if (text.size() > last_.size()) return;
  std::copy(text.begin(), text.end(), last_.begin());
  length_ = text.size();
  last_ms_ = stamp.ms;
  last_has_zone_ = stamp.has_zone;
  if (style_.kind == StampKind::date || format_->twelve_hour()) return;
  const std::size_t at = stamp.clock_at;
  const bool shaped = two_digits_at(text, at) && two_digits_at(text, at + 3) &&
                      two_digits_at(text, at + 6) && text[at + 2] == ':' &&
                      text[at + 5] == ':';
  if (!shaped) return;
  const char* const c = text.data() + at;
  const int hour = two_digits(c);
  const int second = two_digits(c + 6);
  if (hour > 23 || second > 59) return;
  std::size_t end = at + 8;
  int fraction_ms = 0;
  if (end < text.size() && (text[end] == '.' || text[end] == ',')) {
    int scale = 100;
    for (++end; end < text.size() && is_digit(text[end]); ++end) {
      fraction_ms += (text[end] - '0') * scale;
      scale /= 10;
    }
  } else if (end < text.size() && text[end] == ':') {
    return;  // ":fff": left to the plain parser
  }
  after_clock_ = end;
  day_ms_ = stamp.ms - hour * kMsPerHour - two_digits(c + 3) * kMsPerMinute -
            second * kMsPerSecond - fraction_ms;
  clock_at_ = at;
}

}  // namespace telltale::host
