// What became of every line of a log.
#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

namespace telltale::host {

/// Why a line gave no row.
enum class LineFate : std::uint8_t {
  accepted,
  // skipped: nothing is lost
  blank,
  preamble,
  header,
  unit_row,
  comment,
  duplicate,
  not_used,
  // rejected: there may have been a reading
  wrong_count,
  bad_time,
  zero_bytes,
  too_long,
  unclosed_quote,
  cut_off,
  too_late,
  too_many_units,
  columns_changed
};
inline constexpr std::size_t kLineFates =
    static_cast<std::size_t>(LineFate::columns_changed) + 1;

constexpr bool is_rejected(LineFate fate) {
  return fate >= LineFate::wrong_count;
}
/// For people: "wrong number of cells".
std::string_view text_of(LineFate fate);

/// Counts of lines (a record of several lines counts with all of them), each
/// reason with the first line it was met at.
struct RowTally {
  struct Reason {
    LineFate fate;
    std::uint64_t count = 0;       // lines
    std::uint64_t first_line = 0;  // 0: none
  };

  std::uint64_t accepted = 0;  // lines that gave readings
  std::uint64_t rejected = 0;
  std::uint64_t skipped = 0;
  std::uint64_t lines = 0;  // accepted + rejected + skipped
  std::uint64_t rows = 0;   // rows handed out so far
  std::array<Reason, kLineFates> by_fate{};

  void add(LineFate fate, std::uint64_t line, std::uint64_t lines_taken);
  /// An accepted line turns out otherwise: a duplicate, or too late.
  void change(LineFate to, std::uint64_t line, std::uint64_t lines_taken);
  /// Reasons that occurred, rejects first, most frequent first.
  [[nodiscard]] std::vector<Reason> reasons() const;
};

}  // namespace telltale::host
