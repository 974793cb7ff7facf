// Finding slow columns.
#include "ingest/slow_columns.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "ingest/missing.hpp"

namespace telltale::host {
namespace {

// What must hold for a rhythm; random blanks reach none of it.
constexpr std::size_t kLeastSteps = 4;
constexpr std::size_t kEvenOfTen = 8;
// A slower logger's clock may slip by a row where its step is this long.
constexpr std::size_t kLongStep = 8;

}  // namespace

std::optional<std::size_t> rows_per_reading(
    const Table& table, const std::vector<std::size_t>& rows,
    std::size_t index) {
  std::vector<std::size_t> steps;
  std::size_t since = 0;
  bool started = false;
  for (const std::size_t i : rows) {
    const Table::Row& row = table.rows[i];
    if (!row.follows) started = false;
    ++since;
    if (index >= row.cells.size() || is_left_out(row.cells[index])) continue;
    if (started) steps.push_back(since);
    started = true;
    since = 0;
  }
  if (steps.size() < kLeastSteps) return std::nullopt;
  const auto middle =
      steps.begin() + static_cast<std::ptrdiff_t>(steps.size() / 2);
  std::nth_element(steps.begin(), middle, steps.end());
  const std::size_t step = *middle;
  const std::size_t slack = step >= kLongStep ? 1 : 0;
  const auto even = static_cast<std::size_t>(std::count_if(
      steps.begin(), steps.end(),
      [&](std::size_t s) { return s + slack >= step && s <= step + slack; }));
  if (step < 2 || even * 10 < steps.size() * kEvenOfTen) return std::nullopt;
  return step;
}

void find_slow_columns(const Table& table, const std::vector<std::size_t>& rows,
                       std::vector<Column>& columns) {
  for (std::size_t i = 0; i < columns.size(); ++i) {
    Column& column = columns[i];
    if (column.plan.role != Role::channel || column.stats.missing == 0) {
      continue;
    }
    const auto step = rows_per_reading(table, rows, i);
    if (!step) continue;
    column.plan.rows_per_reading = *step;
    column.use.why += fmt::format("; a reading every {} rows", *step);
  }
}

}  // namespace telltale::host
