// LogTrail: where in the log a moment stands, and what was read of late.
#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <functional>
#include <vector>

#include "ingest/row.hpp"
#include "report/health_report.hpp"

namespace telltale::host {

/// A row as it is remembered.
struct TrailRow : Row {
  ChannelMask condemned = 0;  // readings that the data checks condemned
};

/// Remembers the rows of the last while in full, and of everything before that
/// a thinned trail of time stamps and line numbers. Bounded memory.
class LogTrail {
 public:
  /// A row of this unit, in order of its analysis clock.
  void add(const Row& row);
  /// Says which readings of the row at that time are not to be believed.
  void condemn(TimeMs at, ChannelMask readings);

  /// The row at that time, or the first one after it; where the rows are long
  /// gone, the nearest remembered one.
  [[nodiscard]] LogPlace place(TimeMs at) const;

  /// The remembered rows with from <= at <= to, oldest first.
  void each(TimeMs from, TimeMs to,
            const std::function<void(const TrailRow&)>& visit) const;
  /// Whether all rows since `at` are still remembered.
  [[nodiscard]] bool reaches(TimeMs at) const;

  /// Called with every row that is about to be forgotten.
  void on_forget(std::function<void(const TrailRow&)> hook) {
    forget_ = std::move(hook);
  }

 private:
  static constexpr std::size_t kRows = 4096;
  static constexpr std::size_t kKnots = 4096;
  struct Knot {
    TimeMs at;
    LogPlace place;
  };

  void add_knot(const Row& row);
  /// Remembered row i, counted from the oldest.
  [[nodiscard]] const TrailRow& row(std::size_t i) const {
    return rows_[(first_ + i) % kRows];
  }
  /// The oldest remembered row at or after `at`; size() if none.
  [[nodiscard]] std::size_t find(TimeMs at) const;

  std::vector<TrailRow> rows_;
  std::size_t first_ = 0;
  std::vector<Knot> knots_;
  std::int64_t knot_spacing_ms_ = 1000;
  std::function<void(const TrailRow&)> forget_;
};

}  // namespace telltale::host
