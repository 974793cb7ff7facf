// One cell of a channel's column: a number, or a reason why there is none.
#pragma once

#include "ingest/column_plan.hpp"
#include "ingest/csv_source.hpp"
#include "support/number.hpp"

namespace telltale::host {

/// How a channel's cells become canonical readings; made once a column.
struct CellScale {
  double scale = 1.0;  // canonical = cell * scale + offset
  double offset = 0.0;
};
CellScale scale_of(const ColumnPlan& plan);

struct NumberCell {
  double logged = 0;  // NaN: missing
  bool odd = false;   // neither a number nor a known "no reading"
};

/// Reads whatever is no plain number: a spelling of "no reading", a reading
/// with its unit ("41 psi", also another unit of the same quantity, brought to
/// the column's own), thousands in groups, the plan's own missing texts.
NumberCell read_odd_cell(const ColumnPlan& plan, Cell cell, char decimal,
                         bool decimal_proven);

/// The number in a cell of `plan`'s column, quickly where it is a plain one.
inline NumberCell read_number_cell(const ColumnPlan& plan, Cell cell,
                                   char decimal, bool decimal_proven) {
  NumberCell read;
  if (plan.missing.empty() &&
      read_number(cell.data(), cell.data() + cell.size(), decimal,
                  read.logged)) {
    return read;
  }
  return read_odd_cell(plan, cell, decimal, decimal_proven);
}

}  // namespace telltale::host
