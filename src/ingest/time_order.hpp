// Puts rows in order of time and gives them an analysis clock that never
// steps back (contract section 3).
#pragma once

#include <cstdint>
#include <functional>
#include <memory>
#include <vector>

#include "ingest/row.hpp"
#include "ingest/row_tally.hpp"

namespace telltale::host {

struct TimeOrderOptions {
  /// The log's usual interval; what a clock step advances the analysis clock.
  DurationMs interval{1000};
};

/// Rows in, rows out, in the order of their analysis clock.
class TimeOrder {
 public:
  explicit TimeOrder(const TimeOrderOptions& options) : options_(options) {}

  void push(const Row& row);
  /// No more rows will come.
  void finish() { finished_ = true; }
  /// The next row that is ready; false: push more, or all are out.
  bool pop(Row& row);

 private:
  TimeOrderOptions options_;
  std::vector<Row> ready_;
  std::size_t head_ = 0;
  TimeMs newest_ = kNoTime;
  DurationMs offset_{0};
  bool finished_ = false;
};

}  // namespace telltale::host
