// A column of a log while it is being understood.
#pragma once

#include "ingest/column_plan.hpp"
#include "ingest/column_stats.hpp"
#include "ingest/header_name.hpp"
#include "ingest/log.hpp"

namespace telltale::host {

struct Column {
  HeaderName header;
  ColumnStats stats;
  ColumnStats running;  // the same of rows in which the set runs, if it shows
  ColumnUse use;
  ColumnPlan plan;
};

/// The readings that tell what a column is: those of a running set where there
/// are enough of them.
inline const ColumnStats& telling(const Column& column) {
  return column.running.numbers >= 10 ? column.running : column.stats;
}

}  // namespace telltale::host
