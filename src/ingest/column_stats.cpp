// Column statistics.
#include "ingest/column_stats.hpp"

#include <algorithm>
#include <cmath>

#include "ingest/missing.hpp"
#include "support/number.hpp"

namespace telltale::host {

double ColumnStats::quantile(double p) const {
  const auto last = static_cast<double>(sorted.size() - 1);
  return sorted[static_cast<std::size_t>(std::lround(p * last))];
}

ColumnStats stats_of(const Table& table, const std::vector<std::size_t>& rows,
                     std::size_t index, DecimalMark decimal) {
  ColumnStats stats;
  const Grouping grouping =
      decimal.proven ? Grouping::proven : Grouping::possible;
  double last = -HUGE_VAL;
  for (const std::size_t row : rows) {
    if (index >= table.rows[row].cells.size()) continue;
    const std::string& cell = table.rows[row].cells[index];
    ++stats.cells;
    auto value = parse_number(cell, decimal.mark);
    if (!value && is_missing_word(cell)) {
      ++stats.missing;
      continue;
    }
    if (!value) value = parse_grouped_number(cell, decimal.mark, grouping);
    if (!value) {
      const auto split = parse_number_prefix(cell, decimal.mark);
      if (split && unit_of_text(split->suffix)) {
        value = split->value;
        if (stats.suffixes.size() < ColumnStats::kMaxWords) {
          ++stats.suffixes[std::string(split->suffix)];
        }
      }
    }
    if (!value) {
      ++stats.texts;
      if (stats.words.size() < ColumnStats::kMaxWords ||
          stats.words.contains(cell)) {
        ++stats.words[cell];
      }
      continue;
    }
    ++stats.numbers;
    stats.values.push_back(*value);
    if (*value != std::floor(*value)) stats.integers = false;
    const std::size_t mark = cell.find(decimal.mark);
    int decimals = 0;
    if (mark != std::string::npos) {
      std::size_t end = mark + 1;
      while (end < cell.size() && cell[end] >= '0' && cell[end] <= '9') ++end;
      decimals = static_cast<int>(end - mark) - 1;
    }
    stats.most_decimals = std::max(stats.most_decimals, decimals);
    stats.least_decimals = std::min(stats.least_decimals, decimals);
    stats.least_length = stats.numbers == 1
                             ? cell.size()
                             : std::min(stats.least_length, cell.size());
    if (*value < last) stats.rising = false;
    last = *value;
  }
  stats.sorted = stats.values;
  std::sort(stats.sorted.begin(), stats.sorted.end());
  return stats;
}

}  // namespace telltale::host
