// Finding out how a log is written.
#include "ingest/dialect.hpp"

#include <algorithm>
#include <array>
#include <map>

#include "ingest/fold_letters.hpp"
#include "ingest/missing.hpp"
#include "ingest/stamp_format.hpp"
#include "ingest/stamp_reader.hpp"
#include "ingest/unit_text.hpp"
#include "support/number.hpp"

namespace telltale::host {
namespace {

constexpr std::array kDelimiters = {';', '\t', '|', ','};

bool is_blank_row(const std::vector<std::string>& cells) {
  return std::all_of(cells.begin(), cells.end(),
                     [](const std::string& cell) { return cell.empty(); });
}

bool is_number_with_unit(std::string_view cell, char decimal) {
  const auto split = parse_number_prefix(cell, decimal);
  return split && unit_of_text(split->suffix).has_value();
}

bool is_number(std::string_view cell, char decimal) {
  return parse_number(cell, decimal) || is_number_with_unit(cell, decimal) ||
         parse_grouped_number(cell, decimal, Grouping::possible);
}

struct WidthCount {
  std::size_t width = 0;
  std::size_t count = 0;
};

// The width of most rows; of equal ones the larger.
WidthCount common_width(const std::vector<std::vector<std::string>>& rows) {
  std::map<std::size_t, std::size_t> counts;
  for (const auto& cells : rows) ++counts[cells.size()];
  WidthCount best;
  for (const auto& [width, count] : counts) {
    if (width >= 2 && count >= best.count) best = {width, count};
  }
  return best;
}

double score_of(char delimiter, const std::vector<const SampleRecord*>& some) {
  std::vector<std::vector<std::string>> rows;
  rows.reserve(some.size());
  for (const SampleRecord* record : some) {
    rows.push_back(cells_of(*record, delimiter));
  }
  const WidthCount common = common_width(rows);
  if (common.width < 2) return 0;
  // One line of many that falls into parts makes no table.
  if (common.count * 50 < rows.size()) return 0;
  // A preamble is not counted against a delimiter: rows from the first of the
  // common width on.
  std::size_t first = 0;
  while (rows[first].size() != common.width) ++first;
  std::size_t typed = 0;
  std::size_t cells = 0;
  for (const auto& row : rows) {
    if (row.size() != common.width) continue;
    const CellKinds kinds = kinds_of(row, '\0');
    typed += kinds.number + kinds.stamp + kinds.missing;
    cells += row.size();
  }
  const double regular = static_cast<double>(common.count) /
                         static_cast<double>(rows.size() - first);
  const double readable =
      static_cast<double>(typed) / static_cast<double>(cells);
  const double wide =
      static_cast<double>(std::min<std::size_t>(common.width, 30));
  return regular * (0.25 + readable) * (1.0 + 0.01 * wide);
}

}  // namespace

CellKind kind_of_cell(std::string_view cell, char decimal) {
  if (is_missing_word(cell)) return CellKind::missing;
  const bool number = decimal == '\0'
                          ? is_number(cell, '.') || is_number(cell, ',')
                          : is_number(cell, decimal);
  if (number) return CellKind::number;
  if (!guess_patterns(cell, false).empty() || parse_elapsed(cell)) {
    return CellKind::stamp;
  }
  return CellKind::text;
}

CellKinds kinds_of(const std::vector<std::string>& cells, char decimal) {
  CellKinds kinds;
  for (const std::string& cell : cells) {
    switch (kind_of_cell(cell, decimal)) {
      case CellKind::missing:
        ++kinds.missing;
        break;
      case CellKind::number:
        ++kinds.number;
        break;
      case CellKind::stamp:
        ++kinds.stamp;
        break;
      case CellKind::text:
        ++kinds.text;
        break;
    }
  }
  return kinds;
}

char choose_delimiter(const Sample& sample) {
  // Some hundred records tell as much as all.
  std::vector<const SampleRecord*> some;
  const std::size_t step = sample.records.size() / 240 + 1;
  for (std::size_t i = 0; i < sample.records.size(); ++i) {
    const SampleRecord& record = sample.records[i];
    if (record.shape.has_nul || record.shape.too_long ||
        record.text.find_first_not_of(" \t\r") == std::string::npos) {
      continue;
    }
    if (i < 120 || i % step == 0) some.push_back(&record);
  }
  // "sep=;" on the first line: how spreadsheets are told.
  if (!some.empty()) {
    const std::string& text = some.front()->text;
    if (text.size() >= 5 && fold_letters(text.substr(0, 4)) == "sep=") {
      return text[4];
    }
  }
  char best = '\0';
  double best_score = 0;
  for (const char delimiter : kDelimiters) {
    const double score = score_of(delimiter, some);
    if (score > best_score) {
      best = delimiter;
      best_score = score;
    }
  }
  return best;
}

Table cut_sample(const Sample& sample, char delimiter) {
  Table table;
  std::size_t total = 0;
  constexpr std::size_t kMostCells = 200000;
  for (const SampleRecord& record : sample.records) {
    if (record.shape.has_nul || record.shape.too_long) continue;
    Table::Row row;
    row.line = record.line;
    row.follows = record.follows;
    row.cells = cells_of(record, delimiter);
    row.record = &record;
    if (is_blank_row(row.cells)) continue;
    total += row.cells.size();
    table.rows.push_back(std::move(row));
    if (total > kMostCells) break;
  }
  std::map<std::size_t, std::size_t> counts;
  for (const Table::Row& row : table.rows) ++counts[row.cells.size()];
  std::size_t most = 0;
  for (const auto& [width, count] : counts) {
    if (width >= 2 && count >= most) {
      most = count;
      table.width = width;
    }
  }
  // A delimiter at the end of every row makes a column without a name.
  if (table.width < 3) return table;
  bool last_empty = true;
  for (const Table::Row& row : table.rows) {
    last_empty &=
        row.cells.size() < table.width || row.cells[table.width - 1].empty();
  }
  if (last_empty) --table.width;
  return table;
}

DecimalMark choose_decimal(const Table& table, char delimiter) {
  // A mark is sure where the other reading, as thousands, is impossible.
  struct Count {
    std::size_t all = 0;
    std::size_t sure = 0;
  };
  Count points;
  Count commas;
  const auto count = [](const std::string& cell, char mark, Count& counts) {
    if (!is_number(cell, mark)) return;
    ++counts.all;
    const char other = mark == '.' ? ',' : '.';
    const bool thousands =
        parse_grouped_number(cell, other, Grouping::proven).has_value();
    counts.sure += !thousands || cell[0] == '0';
  };
  for (const Table::Row& row : table.rows) {
    for (const std::string& cell : row.cells) {
      const std::size_t point = cell.rfind('.');
      const std::size_t comma = cell.rfind(',');
      const bool has_point = point != std::string::npos;
      const bool has_comma = comma != std::string::npos;
      if (!has_point && !has_comma) continue;
      if (has_point && (!has_comma || point > comma)) {
        count(cell, '.', points);
      } else {
        count(cell, ',', commas);
      }
    }
  }
  if (commas.sure > points.sure) return {',', true};
  if (points.sure > 0) return {'.', true};
  if (commas.sure > 0) return {',', true};
  // "1.234" and "1,234" alone: what is usual with the delimiter.
  if (commas.all > points.all && delimiter != ',') return {',', false};
  return {'.', false};
}

}  // namespace telltale::host
