// What columns say about each other before any of them has a meaning.
#pragma once

#include <string>
#include <vector>

#include "ingest/column.hpp"
#include "ingest/dialect.hpp"

namespace telltale::host {

/// Fills `running`: rows in which speed, frequency or volts are well above
/// nothing. Readings of a set at rest say little of their units.
void find_running_rows(const Table& table, const std::vector<std::size_t>& rows,
                       DecimalMark decimal, std::vector<Column>& columns);

/// A unit behind the readings says as much as one in the header.
void take_units_of_cells(std::vector<Column>& columns);

/// Names of groups above the header help where a header alone says nothing.
/// An empty cell belongs to the group before it.
void add_group_names(const std::vector<std::string>& groups,
                     std::vector<Column>& columns);

/// Words that most headers share ("Gen1", "propulsion") say nothing of one
/// column.
void find_common_words(std::vector<Column>& columns);

}  // namespace telltale::host
