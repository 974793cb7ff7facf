// Matching a later header with the first.
#include "ingest/header_switch.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "ingest/channel_match.hpp"
#include "ingest/dialect.hpp"
#include "ingest/fold_letters.hpp"
#include "ingest/header_name.hpp"
#include "support/safe_text.hpp"

namespace telltale::host {
namespace {

bool same_name(std::string_view a, std::string_view b) {
  return a == b || fold_letters(a) == fold_letters(b);
}

// A new column that says what it is: a channel of this log, with its unit.
std::optional<ColumnPlan> plan_of_new_name(const std::vector<ColumnPlan>& known,
                                           Cell cell) {
  const HeaderName name = parse_header(cell);
  if (!name.unit) return std::nullopt;
  const std::vector<ChannelClaim> claims = claims_of(name);
  if (claims.empty()) return std::nullopt;
  const Channel channel = claims.front().channel;
  const bool expected = std::any_of(
      known.begin(), known.end(),
      [&](const ColumnPlan& plan) { return plan.channel == channel; });
  if (!expected) return std::nullopt;
  ColumnPlan plan;
  plan.header = printable(name.text);
  plan.role = Role::channel;
  plan.channel = channel;
  plan.unit = name.unit->unit;
  plan.scale = name.unit->scale;
  plan.to_canonical = *conversion(name.unit->unit, info_of(channel).unit);
  return plan;
}

bool has_channel(const std::vector<ColumnPlan>& columns, Channel channel) {
  return std::any_of(
      columns.begin(), columns.end(), [&](const ColumnPlan& plan) {
        return plan.role == Role::channel && plan.channel == channel;
      });
}

}  // namespace

HeaderSwitch switch_header(const DecodePlan& plan,
                           const std::vector<Cell>& cells) {
  HeaderSwitch change;
  const std::vector<ColumnPlan>& first = plan.first_columns;
  if (cells.size() < 2 || cells.size() > 10000) return change;
  std::size_t names = 0;
  std::size_t readings = 0;
  for (const Cell cell : cells) {
    switch (kind_of_cell(cell, plan.decimal)) {
      case CellKind::text:
        ++names;
        break;
      case CellKind::number:
      case CellKind::stamp:
        ++readings;
        break;
      case CellKind::missing:
        break;
    }
  }
  if (names < 2 || names <= readings * 3) return change;
  std::vector<bool> taken(first.size(), false);
  std::vector<ColumnPlan> columns(cells.size());
  std::size_t matched = 0;
  bool time = false;
  bool of_day = !plan.split_time;
  for (std::size_t i = 0; i < cells.size(); ++i) {
    columns[i].header = printable(cells[i]);
    for (std::size_t k = 0; k < first.size(); ++k) {
      if (taken[k] || cells[i].empty() ||
          !same_name(columns[i].header, first[k].header)) {
        continue;
      }
      taken[k] = true;
      columns[i] = first[k];
      ++matched;
      time |= first[k].role == Role::time || first[k].role == Role::date;
      of_day |= first[k].role == Role::time_of_day;
      break;
    }
  }
  if (!time || !of_day) {
    // Names in every cell, but none of time: another table.
    const bool surely = readings == 0 && names * 5 >= cells.size() * 4 &&
                        cells.size() == plan.columns.size();
    if (surely) change.kind = HeaderSwitch::Kind::unknown_header;
    return change;
  }
  if (matched * 2 < names) return change;
  std::string fresh;
  for (std::size_t i = 0; i < cells.size(); ++i) {
    const bool known =
        std::any_of(first.begin(), first.end(), [&](const ColumnPlan& plan_k) {
          return same_name(plan_k.header, columns[i].header);
        });
    if (known || cells[i].empty()) continue;
    const auto found = plan_of_new_name(first, cells[i]);
    if (found && !has_channel(columns, found->channel)) columns[i] = *found;
    if (fresh.size() < 120) {
      fresh += fmt::format("{}\"{}\"{}", fresh.empty() ? "" : ", ",
                           columns[i].header, found ? "" : " (not used)");
    }
  }
  std::string gone;
  for (std::size_t k = 0; k < first.size(); ++k) {
    const bool missed = !taken[k] && first[k].role != Role::ignored &&
                        !(first[k].role == Role::channel &&
                          has_channel(columns, first[k].channel));
    if (missed && gone.size() < 120) {
      gone +=
          fmt::format("{}\"{}\"", gone.empty() ? "" : ", ", first[k].header);
    }
  }
  change.kind = HeaderSwitch::Kind::known_header;
  const bool same_order =
      columns.size() == plan.columns.size() &&
      std::equal(columns.begin(), columns.end(), plan.columns.begin(),
                 [](const ColumnPlan& a, const ColumnPlan& b) {
                   return a.header == b.header;
                 });
  if (!same_order) {
    change.note = "a header with other columns; they are read by their names";
    if (!fresh.empty()) change.note += "; new: " + fresh;
    if (!gone.empty()) change.note += "; gone: " + gone;
  }
  change.columns = std::move(columns);
  return change;
}

}  // namespace telltale::host
