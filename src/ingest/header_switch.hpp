// Headers in the middle of a log: files were joined.
#pragma once

#include <string>
#include <vector>

#include "ingest/column_plan.hpp"
#include "ingest/csv_source.hpp"

namespace telltale::host {

struct HeaderSwitch {
  enum class Kind : std::uint8_t {
    no_header,      // an ordinary row, or none at all
    known_header,   // `columns` hold from here on
    unknown_header  // names, but not this log's: nothing under it can be read
  };
  Kind kind = Kind::no_header;
  std::vector<ColumnPlan> columns;
  std::string note;  // what changed, for people; empty: nothing
};

/// Whether `cells` are a header, and the columns under it: those of the plan's
/// first header by their names; others where header and unit name a channel
/// beyond doubt. Time must be among them.
HeaderSwitch switch_header(const DecodePlan& plan,
                           const std::vector<Cell>& cells);

}  // namespace telltale::host
