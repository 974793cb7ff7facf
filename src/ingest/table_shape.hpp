// How readings lie in the table: a sample a row, a reading a row, or groups of
// columns with times of their own.
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "ingest/time_columns.hpp"
#include "ingest/understand.hpp"

namespace telltale::host {

/// The columns of a tall table: time, name, value and perhaps unit.
struct TallColumns {
  std::size_t name = 0;
  std::size_t value = 0;
  std::optional<std::size_t> unit;
};

/// Tall: a column whose few texts are names of channels, beside a column of
/// values. Nothing where the table is not tall.
std::optional<TallColumns> find_tall_columns(
    const Table& table, const std::vector<std::size_t>& rows,
    const std::vector<Column>& columns, const TimeColumns& time);

/// The readings of a tall table as columns of their own, by name.
std::vector<Column> readings_of(const Table& table,
                                const std::vector<std::size_t>& rows,
                                const TallColumns& tall, DecimalMark decimal);

/// Whether all readings of a name stand together, so that time starts anew
/// with every name.
bool is_sorted_by_name(const Table& table, const std::vector<std::size_t>& rows,
                       const TallColumns& tall);

/// Of a table of groups: the time columns, each of which leads its group. At
/// least two; empty where the table is not of that kind.
std::vector<std::size_t> find_group_times(const Table& table,
                                          const std::vector<std::size_t>& rows,
                                          const std::vector<Column>& columns,
                                          const TimeColumns& time,
                                          char decimal);

}  // namespace telltale::host
