// Columns seen together.
#include "ingest/column_context.hpp"

#include <algorithm>
#include <map>
#include <set>
#include <utility>

#include "ingest/channel_match.hpp"
#include "ingest/side_by_side.hpp"
#include "ingest/time_header.hpp"
#include "support/number.hpp"

namespace telltale::host {

namespace {

// The column that tells best whether the set runs; columns.end() if none does.
auto find_running_sign(const std::vector<Column>& columns,
                       const std::string& set) {
  for (const Channel channel : {Channel::engine_speed, Channel::frequency,
                                Channel::voltage_l1, Channel::voltage_line}) {
    const auto shows_running = [&](const Column& column) {
      const auto claims = claims_of(column.header);
      return column.plan.set == set && !claims.empty() &&
             claims.front().channel == channel && column.stats.numbers >= 20 &&
             column.stats.sorted.back() > 0;
    };
    const auto sign =
        std::find_if(columns.begin(), columns.end(), shows_running);
    if (sign != columns.end()) return sign;
  }
  return columns.end();
}

// The same for the columns of one set.
void find_running_rows_of(const std::string& set, const Table& table,
                          const std::vector<std::size_t>& rows,
                          DecimalMark decimal, std::vector<Column>& columns) {
  const auto sign = find_running_sign(columns, set);
  if (sign == columns.end()) return;
  const auto index = static_cast<std::size_t>(sign - columns.begin());
  // A code of a bus would be the highest; 98 of 100 are readings.
  const double half = 0.5 * sign->stats.quantile(0.98);
  const double least = half > 0 ? half : 0.5 * sign->stats.sorted.back();
  std::vector<std::size_t> running;
  for (const std::size_t row : rows) {
    const auto value = parse_number(table.rows[row].cells[index], decimal.mark);
    if (value && *value > least) running.push_back(row);
  }
  if (running.size() < 10) return;
  for (std::size_t i = 0; i < columns.size(); ++i) {
    if (columns[i].plan.set != set) continue;
    columns[i].running = stats_of(table, running, i, decimal);
  }
}

}  // namespace

void find_running_rows(const Table& table, const std::vector<std::size_t>& rows,
                       DecimalMark decimal, std::vector<Column>& columns) {
  find_running_rows_of("", table, rows, decimal, columns);
  for (const std::string& set : sets_of(columns)) {
    find_running_rows_of(set, table, rows, decimal, columns);
  }
}

void take_units_of_cells(std::vector<Column>& columns) {
  for (Column& column : columns) {
    if (column.header.unit || column.stats.suffixes.empty()) continue;
    const auto usual = std::max_element(
        column.stats.suffixes.begin(), column.stats.suffixes.end(),
        [](const auto& a, const auto& b) { return a.second < b.second; });
    if (usual->second * 2 < column.stats.numbers) continue;
    HeaderName name =
        parse_header(column.header.text + " (" + usual->first + ")");
    name.text = column.header.text;
    name.unit_in_cells = true;
    column.header = std::move(name);
  }
}

void add_group_names(const std::vector<std::string>& groups,
                     std::vector<Column>& columns) {
  std::string group;
  for (std::size_t i = 0; i < std::min(groups.size(), columns.size()); ++i) {
    if (!groups[i].empty()) group = groups[i];
    Column& column = columns[i];
    if (group.empty() || is_time_header(column.header)) continue;
    if (!claims_of(column.header).empty()) continue;
    HeaderName name = parse_header(group + " " + column.header.text);
    if (!name.unit) {
      name.unit = column.header.unit;
      name.unit_text = column.header.unit_text;
      name.implied = column.header.implied;
    }
    if (claims_of(name).empty()) continue;
    name.text = column.header.text;
    column.header = std::move(name);
  }
}

void find_common_words(std::vector<Column>& columns) {
  if (columns.size() < 5) return;
  std::map<std::string, std::size_t> counts;
  for (const Column& column : columns) {
    std::set<std::string> words(column.header.unknown.begin(),
                                column.header.unknown.end());
    words.insert(column.header.foreign.begin(), column.header.foreign.end());
    for (const std::string& word : words) ++counts[word];
  }
  const auto is_common = [&](const std::string& word) {
    return counts[word] * 10 >= columns.size() * 6;
  };
  for (Column& column : columns) {
    std::erase_if(column.header.unknown, is_common);
    // Only names of places: a log all of mains volts has no generator's.
    std::erase_if(column.header.foreign, [&](const std::string& word) {
      const bool place = word == "propulsion" || word == "service" ||
                         word == "hotel" || word == "domestic";
      return place && is_common(word);
    });
  }
}

}  // namespace telltale::host
