// The check of power against volts and amperes.
#include "ingest/power_check.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <initializer_list>

#include "ingest/number_cell.hpp"

namespace telltale::host {
namespace {

std::size_t find_channel(const std::vector<Column>& columns,
                         std::initializer_list<Channel> wanted) {
  for (const Channel channel : wanted) {
    for (std::size_t i = 0; i < columns.size(); ++i) {
      const ColumnPlan& plan = columns[i].plan;
      if (plan.role == Role::channel && plan.channel == channel) return i;
    }
  }
  return columns.size();
}

double reading(const ColumnPlan& plan, const std::string& cell,
               DecimalMark decimal) {
  const CellScale scale = scale_of(plan);
  const NumberCell read =
      read_number_cell(plan, cell, decimal.mark, decimal.proven);
  return read.logged * scale.scale + scale.offset;
}

}  // namespace

void check_power(const Table& table, const std::vector<std::size_t>& rows,
                 DecimalMark decimal, std::vector<Column>& columns,
                 std::vector<std::string>& notes) {
  const std::size_t p = find_channel(columns, {Channel::power});
  const std::size_t v =
      find_channel(columns, {Channel::voltage_l1, Channel::voltage_line});
  const std::size_t a = find_channel(
      columns, {Channel::current_l1, Channel::current_l2, Channel::current_l3});
  if (std::max({p, v, a}) >= columns.size()) return;
  Column& power = columns[p];
  if (power.plan.unit != LogUnit::kW && power.plan.unit != LogUnit::W) return;
  std::vector<double> ratios;
  for (const std::size_t row : rows) {
    const auto& cells = table.rows[row].cells;
    const double va = reading(columns[v].plan, cells[v], decimal) *
                      reading(columns[a].plan, cells[a], decimal);
    const double watts = 1000 * reading(power.plan, cells[p], decimal);
    if (va > 100 && watts > 0) ratios.push_back(watts / va);
  }
  if (ratios.size() < 5) return;
  // One to three legs at any power factor lie between 0.1 and 4. Most readings
  // must say so: a sender that broke half way is no unit.
  const auto most_lie = [&](double low, double high) {
    const auto inside =
        std::count_if(ratios.begin(), ratios.end(),
                      [&](double r) { return r > low && r < high; });
    return static_cast<std::size_t>(inside) * 10 >= ratios.size() * 8;
  };
  const bool too_much = most_lie(100, 4000);
  const bool too_little = most_lie(1e-4, 4e-3);
  const LogUnit was = power.plan.unit;
  const LogUnit is = too_much ? LogUnit::W : LogUnit::kW;
  if ((!too_much && !too_little) || was == is) return;
  power.plan.unit = power.use.unit = is;
  power.plan.to_canonical = *conversion(is, Unit::kW);
  power.use.why =
      fmt::format("its header; volts times amperes show {}", symbol_of(is));
  notes.push_back(fmt::format(
      "\"{}\": its readings can't be {}, as volts times amperes show; they are "
      "read as {}. If that is wrong, a map settles it: channel = \"power\", "
      "unit = \"{}\"",
      power.header.text, symbol_of(was), symbol_of(is), name_of(was)));
}

}  // namespace telltale::host
