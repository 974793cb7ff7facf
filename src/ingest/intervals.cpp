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
  struct Last {
    TimeMs stamp = kNoTime;
    std::int64_t group = 0;  // rows that share the stamp
    bool first = true;       // the stretch may have cut the group
  };
  RowClock clock(plan);
  std::map<std::string, Last> lasts;  // by unit
  std::vector<std::int64_t> steps;
  std::vector<std::int64_t> groups;
  std::size_t back = 0;
  for (const std::size_t i : rows) {
    const Table::Row& row = table.rows[i];
    if (!row.follows) lasts.clear();
    TimeMs stamp;
    if (!read_stamp(clock, row, grid, stamp)) continue;
    Last& last = lasts[grid.unit ? row.cells[*grid.unit] : std::string()];
    if (is_set(last.stamp)) {
      const std::int64_t step = (stamp - last.stamp).ms;
      if (step == 0) {
        ++last.group;
        continue;
      }
      if (step > 0) steps.push_back(step);
      back += step < 0;
      if (!last.first) groups.push_back(last.group * 1000);
      last.first = false;
    }
    last.stamp = stamp;
    last.group = 1;
  }
  Intervals found;
  found.descending = back >= 2 && back > 4 * steps.size();
  if (steps.empty()) return found;
  found.stamp_s = median_s(steps);
  // Stamps coarser than the sampling: the rows in between are spread.
  found.row_s = found.stamp_s / std::max(1.0, median_s(groups));
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
