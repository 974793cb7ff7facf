// Medians of steps.
#include "ingest/intervals.hpp"

#include <algorithm>
#include <cstdint>
#include <map>
#include <string>

#include "ingest/row_clock.hpp"

namespace telltale::host {
namespace {

double median_s(std::vector<std::int64_t>& steps) {
  if (steps.empty()) return 0;
  const auto middle =
      steps.begin() + static_cast<std::ptrdiff_t>(steps.size() / 2);
  std::nth_element(steps.begin(), middle, steps.end());
  return static_cast<double>(*middle) / 1000.0;
}

bool read_stamp(RowClock& clock, const Table::Row& row, const StampGrid& grid,
                TimeMs& stamp) {
  const std::size_t of_day = grid.of_day.value_or(grid.column);
  return clock.read(row.cells[grid.column], row.cells[of_day], stamp);
}

}  // namespace

Intervals intervals_of(const Table& table, const std::vector<std::size_t>& rows,
                       const DecodePlan& plan, const StampGrid& grid) {
  RowClock clock(plan);
  std::vector<std::int64_t> steps;
  std::size_t repeats = 0;
  std::size_t back = 0;
  TimeMs last = kNoTime;
  for (const std::size_t i : rows) {
    const Table::Row& row = table.rows[i];
    if (!row.follows) last = kNoTime;
    TimeMs stamp;
    if (!read_stamp(clock, row, grid, stamp)) continue;
    if (is_set(last)) {
      const std::int64_t step = (stamp - last).ms;
      if (step > 0) steps.push_back(step);
      repeats += step == 0;
      back += step < 0;
    }
    last = stamp;
  }
  Intervals found;
  found.descending = back >= 2 && back > 4 * steps.size();
  if (steps.empty()) return found;
  found.stamp_s = median_s(steps);
  // Stamps coarser than the sampling: the rows in between are spread.
  const double rows_a_stamp =
      1.0 + static_cast<double>(repeats) / static_cast<double>(steps.size());
  found.row_s =
      rows_a_stamp < 1.5 ? found.stamp_s : found.stamp_s / rows_a_stamp;
  return found;
}

double period_of_names(const Table& table, const std::vector<std::size_t>& rows,
                       const DecodePlan& plan, const StampGrid& grid,
                       std::size_t name_column) {
  RowClock clock(plan);
  std::map<std::string, TimeMs> last;
  std::vector<std::int64_t> steps;
  for (const std::size_t i : rows) {
    const Table::Row& row = table.rows[i];
    if (!row.follows) last.clear();
    TimeMs stamp;
    if (!read_stamp(clock, row, grid, stamp)) continue;
    const auto [before, fresh] =
        last.try_emplace(row.cells[name_column], stamp);
    if (!fresh) {
      if (stamp > before->second) steps.push_back((stamp - before->second).ms);
      before->second = stamp;
    }
  }
  return median_s(steps);
}

}  // namespace telltale::host
