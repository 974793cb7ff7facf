// How a log is written down: delimiter, decimal mark, header row.
#pragma once

#include <cstddef>
#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "ingest/sample.hpp"

namespace telltale::host {

/// What a cell looks like, without knowing its column.
enum class CellKind : std::uint8_t { missing, number, stamp, text };
/// `decimal` 0: both marks count.
CellKind kind_of_cell(std::string_view cell, char decimal);

/// The delimiter by which the records fall into the most regular, most
/// readable table; 0 where none makes at least two columns.
char choose_delimiter(const Sample& sample);

/// A sample cut into cells.
struct Table {
  struct Row {
    std::uint64_t line = 0;
    bool follows = true;
    std::vector<std::string> cells;
    const SampleRecord* record = nullptr;
  };
  std::vector<Row> rows;  // blank records are left out
  std::size_t width = 0;  // cells of most rows
};
Table cut_sample(const Sample& sample, char delimiter);

struct DecimalMark {
  char mark = '.';
  bool proven = false;  // some number leaves no doubt
};
DecimalMark choose_decimal(const Table& table, char delimiter);

/// Where the header is in the table.
struct HeaderPlace {
  std::optional<std::size_t> header;    // row of the table; none: no header
  std::optional<std::size_t> unit_row;  // row of units under it
  // Without a header: names of another number of columns; 0: none.
  std::size_t other_width = 0;
  std::uint64_t other_line = 0;
};
HeaderPlace find_header(const Table& table, char decimal);

/// The row of units right under a header, if there is one.
std::optional<std::size_t> unit_row_below(const Table& table,
                                          std::size_t header, char decimal);

}  // namespace telltale::host
