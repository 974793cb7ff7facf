// Gives every column its meaning: time, text or channel, with unit and reason.
#pragma once

#include <string>
#include <vector>

#include "ingest/column.hpp"
#include "ingest/time_columns.hpp"

namespace telltale::host {

/// Marks the time columns.
void mark_time_columns(std::vector<Column>& columns, const TimeColumns& time);

/// Takes a column that names the set, if there is one.
void understand_unit_column(std::vector<Column>& columns);

/// Fills `use` and `plan` of all columns that are not yet taken (use.name and
/// use.why empty). Adds notes for what could not be settled.
void understand_columns(std::vector<Column>& columns,
                        std::vector<std::string>& notes);

}  // namespace telltale::host
