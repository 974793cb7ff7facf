// Gives every column its meaning: time, text or channel, with unit and reason.
#pragma once

#include <string>
#include <vector>

#include "ingest/column_plan.hpp"
#include "ingest/column_stats.hpp"
#include "ingest/header_name.hpp"
#include "ingest/log.hpp"
#include "ingest/time_columns.hpp"

namespace telltale::host {

/// A column while it is being understood.
struct Column {
  HeaderName header;
  ColumnStats stats;
  ColumnStats running;  // the same of rows in which the set runs, if it shows
  ColumnUse use;
  ColumnPlan plan;
};

/// Fills `use` and `plan` of all columns that are not yet taken (use.name
/// empty). Adds notes for what could not be settled.
void understand_columns(std::vector<Column>& columns,
                        std::vector<std::string>& notes);

/// Takes a column that names the set, if there is one.
void understand_unit_column(std::vector<Column>& columns);

/// Words that most headers share ("Gen1", "engine") say nothing of one column.
void find_common_words(std::vector<Column>& columns);

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

/// Marks the time columns.
void mark_time_columns(std::vector<Column>& columns, const TimeColumns& time);

}  // namespace telltale::host
