// Reads a column of stamps quickly: most of a stamp is the same as in the row
// before, so mostly only the clock's digits are read again.
#pragma once

#include <array>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>

#include "ingest/stamp_format.hpp"

namespace telltale::host {

/// What a time column's cells are.
enum class StampKind : std::uint8_t {
  calendar,       // date and clock in one cell
  date,           // a date alone
  clock,          // time of day alone
  elapsed_clock,  // h:mm:ss since the start, hours beyond 23 too
  epoch,          // a count since 1970-01-01T00:00Z
  elapsed,        // a count since the start
  serial          // days since 1899-12-30, as spreadsheets keep them
};

/// How the cells of a time column are written.
struct StampStyle {
  StampKind kind = StampKind::calendar;
  std::string pattern;        // of calendar, date and clock
  double ms_per_count = 1.0;  // of epoch, elapsed and serial

  friend bool operator==(const StampStyle&, const StampStyle&) = default;
};

/// The style of a map's `format`: a pattern, or one of "epoch s|ms|us|ns",
/// "elapsed s|ms|min|h", "elapsed h:mm:ss", "serial days".
std::optional<StampStyle> stamp_style_named(std::string_view format);
/// The text that stamp_style_named() reads back.
std::string name_of(const StampStyle& style);

/// Elapsed time as "h:mm:ss", "mm:ss.f", "125:03:07", "1d 02:03:04",
/// "5 days 04:46:56.000"; in milliseconds, negative with a leading '-'.
std::optional<std::int64_t> parse_elapsed(std::string_view text);

/// Stateful reader of one time column.
class StampReader {
 public:
  StampReader() = default;
  /// Nothing where the style's pattern is not valid.
  static std::optional<StampReader> of(const StampStyle& style, char decimal);

  /// True where `text` is a stamp of this style; milliseconds since
  /// 1970-01-01, since midnight (clock) or since the start (elapsed).
  /// Stamps before year 1 or after 9999 are refused.
  bool read(std::string_view text, std::int64_t& ms, bool& has_zone);

  /// The same without the memory of the row before: the oracle.
  bool read_plainly(std::string_view text, std::int64_t& ms,
                    bool& has_zone) const;

  [[nodiscard]] const StampStyle& style() const { return style_; }

 private:
  bool read_like_last(std::string_view text, std::int64_t& ms) const;
  void remember(std::string_view text, const Stamp& stamp);

  StampStyle style_;
  char decimal_ = '.';
  std::optional<StampFormat> format_;

  // The last stamp that was read plainly, where its clock reads hh:mm:ss.
  static constexpr std::size_t kNoClock = ~std::size_t{0};
  std::array<char, 48> last_{};
  std::size_t length_ = 0;
  std::size_t clock_at_ = kNoClock;
  std::size_t after_clock_ = 0;  // where the text behind seconds goes on
  std::int64_t day_ms_ = 0;      // the stamp less its clock
  bool last_has_zone_ = false;
  // The last date, whole.
  std::int64_t last_ms_ = 0;
};

}  // namespace telltale::host
