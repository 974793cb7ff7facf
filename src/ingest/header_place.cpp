// Finding the header.
#include "ingest/header_place.hpp"

#include <algorithm>
#include <string>
#include <vector>

#include "ingest/fold_letters.hpp"
#include "ingest/header_name.hpp"
#include "ingest/missing.hpp"
#include "ingest/time_header.hpp"
#include "ingest/unit_text.hpp"

namespace telltale::host {
namespace {

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

bool is_unit_row(const Table::Row& row) {
  std::size_t units = 0;
  std::size_t named = 0;
  for (const std::string& cell : row.cells) {
    if (is_missing_word(cell)) continue;
    ++named;
    units += is_unit_like(cell);
  }
  return named > 0 && units * 5 >= named * 3;
}

// Texts and hardly a number: names.
bool looks_named(const Table::Row& row, char decimal) {
  const CellKinds kinds = kinds_of(row.cells, decimal);
  if (kinds.stamp > 0 || kinds.text <= kinds.number * 3) return false;
  // A title in a row of empty cells names no columns; "#" is a name.
  return kinds.text >= 2 ||
         (kinds.number == 0 && kinds.text * 2 >= row.cells.size());
}

bool speaks_of_time(const Table::Row& row) {
  return std::any_of(row.cells.begin(), row.cells.end(),
                     [](const std::string& cell) {
                       return is_time_header(parse_header(cell));
                     });
}

// The columns that a row of names has: a delimiter at its end makes none,
// unless there are readings under it.
std::size_t width_under(const Table& table, std::size_t header) {
  const std::size_t cells = table.rows[header].cells.size();
  if (cells < 3 || !table.rows[header].cells.back().empty()) return cells;
  for (std::size_t k = header + 1; k < table.rows.size(); ++k) {
    const auto& row = table.rows[k].cells;
    if (row.size() == cells && !row.back().empty()) return cells;
  }
  return cells - 1;
}

// What stands under a row of names, up to the next names of another width.
struct Block {
  std::size_t readings = 0;
  std::size_t stamps = 0;  // of these, with a stamp in them
  std::size_t others = 0;  // rows of another width
};

Block block_under(const Table& table, std::size_t header, std::size_t width,
                  char decimal) {
  Block block;
  for (std::size_t k = header + 1; k < table.rows.size(); ++k) {
    const Table::Row& row = table.rows[k];
    const bool named = looks_named(row, decimal);
    if (!has_width(row, width)) {
      if (named && block.readings > 0 && block.others > block.readings) break;
      ++block.others;
      continue;
    }
    if (named) continue;
    ++block.readings;
    block.stamps += kinds_of(row.cells, decimal).stamp > 0;
    if (block.readings >= 200) break;
  }
  return block;
}

// Names of groups above the header: "Engine,,Generator,".
bool is_group_row(const Table& table, std::size_t header, std::size_t width,
                  char decimal) {
  if (header == 0 || !has_width(table.rows[header - 1], width)) return false;
  const Table::Row& above = table.rows[header - 1];
  if (above.line + 1 != table.rows[header].line) return false;
  const CellKinds kinds = kinds_of(above.cells, decimal);
  return kinds.text >= 2 && kinds.number == 0 && kinds.stamp == 0;
}

}  // namespace

bool has_width(const Table::Row& row, std::size_t width) {
  return row.cells.size() == width ||
         (row.cells.size() == width + 1 && row.cells.back().empty());
}

HeaderPlace place_header(const Table& table, std::size_t header, char decimal) {
  HeaderPlace place;
  place.header = header;
  place.width = width_under(table, header);
  const std::size_t below = header + 1;
  if (below < table.rows.size() && has_width(table.rows[below], place.width)) {
    const CellKinds kinds = kinds_of(table.rows[below].cells, decimal);
    // "1" is a unit, too; a row of readings has more numbers.
    const bool readings = kinds.stamp > 0 || kinds.number > kinds.text;
    if (!readings && is_unit_row(table.rows[below])) place.unit_row = below;
  }
  if (is_group_row(table, header, place.width, decimal)) {
    place.group_row = header - 1;
  }
  return place;
}

HeaderPlace find_header(const Table& table, char decimal) {
  struct Candidate {
    std::size_t row;
    Block block;
    bool tells_time;
  };
  std::optional<Candidate> best;
  HeaderPlace none;
  for (std::size_t i = 0; i < table.rows.size(); ++i) {
    const Table::Row& row = table.rows[i];
    if (row.line == 0) break;  // beyond the log's beginning
    if (row.cells.size() < 2 || !looks_named(row, decimal)) continue;
    const std::size_t width = width_under(table, i);
    // Of rows of names one below the other, the last names the columns.
    const bool more_names = i + 1 < table.rows.size() &&
                            has_width(table.rows[i + 1], width) &&
                            looks_named(table.rows[i + 1], decimal) &&
                            !is_unit_row(table.rows[i + 1]);
    if (more_names && row.record->text != table.rows[i + 1].record->text) {
      const std::size_t next_width = width_under(table, i + 1);
      const Block next = block_under(table, i + 1, next_width, decimal);
      if (next.readings > 0) continue;
    }
    const Block block = block_under(table, i, width, decimal);
    if (block.readings == 0) {
      if (none.other_width == 0 && width > 2 && width + 3 > table.width &&
          width < table.width + 4) {
        none.other_width = width;
        none.other_line = row.line;
      }
      continue;
    }
    const bool enough = block.readings >= 10 || block.readings >= block.others;
    const bool tells_time =
        speaks_of_time(row) || block.stamps * 2 >= block.readings;
    if (enough && tells_time) return place_header(table, i, decimal);
    if (!best || block.readings > best->block.readings) {
      best = Candidate{i, block, tells_time};
    }
  }
  if (!best) return none;
  return place_header(table, best->row, decimal);
}

}  // namespace telltale::host
