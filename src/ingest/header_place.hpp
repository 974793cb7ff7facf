// Where the header is.
#pragma once

#include <cstddef>
#include <cstdint>
#include <optional>

#include "ingest/dialect.hpp"

namespace telltale::host {

/// Rows of a table that name its columns.
struct HeaderPlace {
  std::optional<std::size_t> header;     // none: no header
  std::optional<std::size_t> unit_row;   // units, right under the header
  std::optional<std::size_t> group_row;  // names of groups, right above it
  std::size_t width = 0;                 // columns under the header
  // Without a header: names of another number of columns; 0: none.
  std::size_t other_width = 0;
  std::uint64_t other_line = 0;
};

/// The first row of names under which rows of readings stand; of several tables
/// in one file (key and value lines, then readings) the one that tells time.
/// The header need not be the first line; rows above it may be readings.
HeaderPlace find_header(const Table& table, char decimal);

/// The same for a header whose row is known.
HeaderPlace place_header(const Table& table, std::size_t header, char decimal);

/// Whether a row belongs to a table of `width` columns: it may end in one more
/// delimiter.
bool has_width(const Table::Row& row, std::size_t width);

}  // namespace telltale::host
