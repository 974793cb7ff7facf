// Columns that are logged less often than the log has rows.
#pragma once

#include <cstddef>
#include <optional>
#include <vector>

#include "ingest/column.hpp"
#include "ingest/dialect.hpp"

namespace telltale::host {

/// The rows from one reading of column `index` to its next, where most of the
/// cells are empty and the readings come evenly; nothing where they do not.
/// Needs five readings in a row of rows.
std::optional<std::size_t> rows_per_reading(
    const Table& table, const std::vector<std::size_t>& rows,
    std::size_t index);

/// Marks the slow ones among the channels' columns and says so in their `why`.
/// Their empty cells are no missing readings while the next one is not overdue.
void find_slow_columns(const Table& table, const std::vector<std::size_t>& rows,
                       std::vector<Column>& columns);

}  // namespace telltale::host
