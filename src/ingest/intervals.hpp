// Times between the rows of a sample.
#pragma once

#include <cstddef>
#include <optional>
#include <vector>

#include "ingest/column_plan.hpp"
#include "ingest/dialect.hpp"

namespace telltale::host {

/// Where a table's stamps are.
struct StampGrid {
  std::size_t column = 0;
  std::optional<std::size_t> of_day;
  std::optional<std::size_t> unit;
};

struct Intervals {
  double row_s = 0;         // median from row to row; 0: can't be had
  double stamp_s = 0;       // median between different stamps
  bool descending = false;  // time runs backwards
};
Intervals intervals_of(const Table& table, const std::vector<std::size_t>& rows,
                       const DecodePlan& plan, const StampGrid& grid);

/// Of a tall table: the median time in which a name comes again, in seconds.
double period_of_names(const Table& table, const std::vector<std::size_t>& rows,
                       const DecodePlan& plan, const StampGrid& grid,
                       std::size_t name_column);

}  // namespace telltale::host
