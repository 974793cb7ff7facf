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

struct Kinds {
  std::size_t missing = 0;
  std::size_t number = 0;
  std::size_t stamp = 0;
  std::size_t text = 0;
};

Kinds kinds_of(const std::vector<std::string>& cells, char decimal) {
  Kinds kinds;
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

double score_of(char delimiter, const std::vector<const SampleRecord*>& some) {
  std::vector<std::vector<std::string>> rows;
  for (const SampleRecord* record : some) {
    rows.push_back(cells_of(*record, delimiter));
  }
  const WidthCount common = common_width(rows);
  if (common.width < 2) return 0;
  // A preamble is not counted against a delimiter: rows from the first of the
  // common width on.
  std::size_t first = 0;
  while (rows[first].size() != common.width) ++first;
  std::size_t typed = 0;
  std::size_t cells = 0;
  for (const auto& row : rows) {
    if (row.size() != common.width) continue;
    const Kinds kinds = kinds_of(row, '\0');
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

bool is_unit_like(std::string_view cell) {
  std::string_view inner = cell;
  if (inner.size() > 2 && (inner.front() == '(' || inner.front() == '[')) {
    inner = inner.substr(1, inner.size() - 2);
  }
  if (unit_of_text(inner)) return true;
  // How the clock is written, in a row of units: "yyyy-mm-dd hh:mm:ss".
  const std::string folded = fold_letters(inner);
  return folded.find_first_not_of("ymdhsatj-/.: ") == folded.npos &&
         folded.size() >= 4;
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

char choose_delimiter(const Sample& sample) {
  // Some hundred records tell as much as all.
  std::vector<const SampleRecord*> some;
  const std::size_t step = sample.records.size() / 240 + 1;
  for (std::size_t i = 0; i < sample.records.size(); ++i) {
    const SampleRecord& record = sample.records[i];
    if (record.text.find_first_not_of(" \t\r") == std::string::npos) continue;
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
  constexpr std::size_t kMostCells = 400000;
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
  bool last_empty = table.width > 2;
  for (const Table::Row& row : table.rows) {
    last_empty &=
        row.cells.size() < table.width || row.cells[table.width - 1].empty();
  }
  if (last_empty) --table.width;
  return table;
}

DecimalMark choose_decimal(const Table& table, char delimiter) {
  std::size_t points = 0;
  std::size_t commas = 0;
  std::size_t sure_commas = 0;
  for (const Table::Row& row : table.rows) {
    for (const std::string& cell : row.cells) {
      const bool point = cell.find('.') != std::string::npos;
      const bool comma = cell.find(',') != std::string::npos;
      if (point == comma) continue;
      if (point && parse_number_prefix(cell, '.') && is_number(cell, '.')) {
        ++points;
      }
      if (comma && is_number(cell, ',')) {
        ++commas;
        // "1,234" may be thousands; "0,123" and "12,5" can't.
        const std::size_t at = cell.find(',');
        const bool grouped =
            parse_grouped_number(cell, '.', Grouping::proven).has_value();
        if (!grouped || cell[0] == '0' || at > 3) ++sure_commas;
      }
    }
  }
  if (commas > 0 && sure_commas > 0 && commas >= points) return {',', true};
  if (points > 0) return {'.', true};
  if (commas > 0 && delimiter != ',') return {',', false};
  return {'.', false};
}

namespace {

bool has_width(const Table& table, std::size_t i) {
  const auto& cells = table.rows[i].cells;
  return cells.size() == table.width ||
         (cells.size() == table.width + 1 && cells.back().empty());
}

bool is_unit_row(const Table& table, std::size_t i) {
  std::size_t units = 0;
  std::size_t named = 0;
  for (const std::string& cell : table.rows[i].cells) {
    if (is_missing_word(cell)) continue;
    ++named;
    units += is_unit_like(cell);
  }
  return named > 0 && units * 5 >= named * 3;
}

// Texts and hardly a number: names.
bool looks_named(const Table& table, std::size_t i, char decimal) {
  const Kinds kinds = kinds_of(table.rows[i].cells, decimal);
  if (kinds.stamp > 0 || kinds.text <= kinds.number * 3) return false;
  // A title in a row of empty cells names no columns; "#" is a name.
  const std::size_t cells = table.rows[i].cells.size();
  return kinds.text >= 2 || (kinds.number == 0 && kinds.text * 2 >= cells);
}

}  // namespace

std::optional<std::size_t> unit_row_below(const Table& table,
                                          std::size_t header, char decimal) {
  const std::size_t below = header + 1;
  if (below >= table.rows.size() || !has_width(table, below)) {
    return std::nullopt;
  }
  const Kinds kinds = kinds_of(table.rows[below].cells, decimal);
  // "1" is a unit, too; a row of readings has more numbers.
  const bool readings = kinds.stamp > 0 || kinds.number > kinds.text;
  if (readings || !is_unit_row(table, below)) return std::nullopt;
  return below;
}

HeaderPlace find_header(const Table& table, char decimal) {
  HeaderPlace place;
  for (std::size_t i = 0; i < table.rows.size(); ++i) {
    if (table.rows[i].line == 0) break;  // beyond the log's beginning
    if (!has_width(table, i)) {
      const std::size_t width = table.rows[i].cells.size();
      const bool close = width + 3 > table.width && width < table.width + 4;
      if (place.other_width == 0 && close && width > 2 &&
          looks_named(table, i, decimal)) {
        place.other_width = width;
        place.other_line = table.rows[i].line;
      }
      continue;
    }
    if (!looks_named(table, i, decimal) || is_unit_row(table, i)) continue;
    // Rows of names follow each other: the last of them names the columns,
    // unless all rows are of words.
    std::size_t last = i;
    for (std::size_t k = i + 1; k < std::min(table.rows.size(), i + 4); ++k) {
      if (!has_width(table, k) || unit_row_below(table, last, decimal) ||
          !looks_named(table, k, decimal)) {
        break;
      }
      last = k;
    }
    std::size_t data = 0;
    std::size_t names = 0;
    const std::size_t end = std::min(table.rows.size(), last + 12);
    for (std::size_t k = last + 1; k < end; ++k) {
      if (!has_width(table, k)) continue;
      ++(looks_named(table, k, decimal) ? names : data);
    }
    place.header = data > names ? last : i;
    place.unit_row = unit_row_below(table, *place.header, decimal);
    return place;
  }
  return place;
}

}  // namespace telltale::host
