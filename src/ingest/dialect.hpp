// How a log is written down: delimiter and decimal mark.
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

/// How many cells of a row look like what.
struct CellKinds {
  std::size_t missing = 0;
  std::size_t number = 0;
  std::size_t stamp = 0;
  std::size_t text = 0;
};
CellKinds kinds_of(const std::vector<std::string>& cells, char decimal);

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

}  // namespace telltale::host
