// Logs that have the columns of several sets beside one another: "Port RPM",
// "Stbd RPM"; "Gen 1 Hz", "Gen 2 Hz".
#pragma once

#include <string>
#include <vector>

#include "ingest/column.hpp"

namespace telltale::host {

/// Names the set that each column belongs to (ColumnPlan::set) where headers
/// say so of two sets or more, and each of them has a channel that another has
/// too. Columns of no set belong to all.
void name_sets(std::vector<Column>& columns);

/// The sets named, in order of their columns; empty: the log is of one.
std::vector<std::string> sets_of(const std::vector<Column>& columns);
/// The same without sets that have no column in use: a map may leave a set out.
/// REQUIRES: columns are understood
std::vector<std::string> sets_in_use(const std::vector<Column>& columns);

}  // namespace telltale::host
