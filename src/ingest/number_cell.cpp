// Cells that are no plain number.
#include "ingest/number_cell.hpp"

#include <algorithm>
#include <limits>

#include "ingest/missing.hpp"
#include "ingest/unit_text.hpp"

namespace telltale::host {
namespace {

constexpr NumberCell kMissing{std::numeric_limits<double>::quiet_NaN(), false};

}  // namespace

CellScale scale_of(const ColumnPlan& plan) {
  const Conversion& c = plan.to_canonical;
  return {c.scale * plan.scale, c.scale * plan.offset + c.offset};
}

NumberCell read_odd_cell(const ColumnPlan& plan, Cell cell, char decimal,
                         bool decimal_proven) {
  if (std::find(plan.missing.begin(), plan.missing.end(), cell) !=
      plan.missing.end()) {
    return kMissing;
  }
  if (const auto plain = parse_number(cell, decimal)) return {*plain, false};
  if (is_missing_word(cell)) return kMissing;
  const Grouping grouping =
      decimal_proven ? Grouping::proven : Grouping::possible;
  if (const auto grouped = parse_grouped_number(cell, decimal, grouping)) {
    return {*grouped, false};
  }
  const auto split = parse_number_prefix(cell, decimal);
  const auto unit = split ? unit_of_text(split->suffix) : std::nullopt;
  if (unit) {
    if (unit->unit == plan.unit && unit->scale == plan.scale) {
      return {split->value, false};
    }
    const auto there = conversion(unit->unit, info_of(plan.channel).unit);
    if (there) {
      const CellScale scale = scale_of(plan);
      const double value = there->to_canonical(split->value * unit->scale);
      return {(value - scale.offset) / scale.scale, false};
    }
  }
  return {kMissing.logged, true};
}

}  // namespace telltale::host
