#include "summary/value_table.hpp"

#include <algorithm>
#include <utility>

namespace telltale::host {

bool ValueTable::add_new(WeightedValue& slot, WeightedValue value) {
  if (used_ == kMost) return false;
  ++used_;
  slot = value;
  // Mostly one look finds a value.
  if (used_ * 4 < slots_.size()) return true;
  const std::vector<WeightedValue> before =
      std::exchange(slots_, std::vector<WeightedValue>(slots_.size() * 2));
  ++bits_;
  for (const WeightedValue& old : before) {
    if (old.weight > 0.0) slots_[place_of(old.x)] = old;
  }
  return true;
}

std::vector<WeightedValue> ValueTable::sorted() const {
  std::vector<WeightedValue> out;
  out.reserve(used_);
  for (const WeightedValue& value : slots_) {
    if (value.weight > 0.0) out.push_back(value);
  }
  std::sort(
      out.begin(), out.end(),
      [](const WeightedValue& a, const WeightedValue& b) { return a.x < b.x; });
  return out;
}

void ValueTable::clear() { *this = ValueTable(); }

}  // namespace telltale::host
