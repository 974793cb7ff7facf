// One way of writing a date, a clock time or both, and the plain parser for
// it. The row loop uses ingest/stamp_reader.hpp, which this is the oracle of.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace telltale::host {

/// A stamp as read. Without a zone `ms` counts as if the stamp were UTC.
struct Stamp {
  std::int64_t ms = 0;       // since 1970-01-01; of a clock alone: of the day
  bool has_zone = false;     // ms is UTC
  std::size_t clock_at = 0;  // where the hour's digits begin in the text
};

/// A compiled strptime-like pattern: %Y %y %m %d %b %a %H %I %M %S %f %p %z,
/// everything else literal, a blank for any blanks. %S takes a fraction, after
/// a point or comma, with it; digits beyond the millisecond are dropped, never
/// rounded. %b and %a know English, German, French, Spanish, Italian, Dutch and
/// Norwegian. %y: 69..99 are 1969..1999, 00..68 are 2000..2068 (POSIX). A leap
/// second :60 counts as the second after; 24:00:00 as the next day's start.
class StampFormat {
 public:
  /// Nothing where the pattern has an unknown directive, or neither a whole
  /// date nor a clock.
  static std::optional<StampFormat> compile(std::string_view pattern);

  /// True where all of `text` (trimmed) is such a stamp and is a date and a
  /// time that exist.
  bool parse(std::string_view text, Stamp& stamp) const noexcept;

  [[nodiscard]] const std::string& pattern() const { return pattern_; }
  [[nodiscard]] bool has_date() const { return has_date_; }
  [[nodiscard]] bool has_clock() const { return has_clock_; }
  [[nodiscard]] bool has_zone() const { return has_zone_; }
  [[nodiscard]] bool twelve_hour() const { return twelve_hour_; }
  /// For people: "DD.MM.YYYY hh:mm:ss".
  [[nodiscard]] std::string in_words() const;

 private:
  struct Item {
    char what;     // the directive's letter, or '=' for a literal
    char literal;  // for '='
    bool fixed;    // a number glued to the next one: exactly its width
  };

  std::string pattern_;
  std::vector<Item> items_;
  bool has_date_ = false;
  bool has_clock_ = false;
  bool has_zone_ = false;
  bool twelve_hour_ = false;
};

/// The patterns that `text` may be written in, most likely first; several
/// where the order of day and month can't be seen. Empty where it is no stamp.
/// Digits alone ("20260601") count only where `digits_too` says so.
std::vector<std::string> guess_patterns(std::string_view text, bool digits_too);

/// The offset from UTC in minutes that a text such as "Z", "+01:00", "-0530",
/// "UTC+2", "GMT-05:00", "CET" names; nothing where it is none. The letters
/// are those of RFC 2822 section 4.3 and, for Europe, common practice.
std::optional<int> parse_zone(std::string_view text);

}  // namespace telltale::host
