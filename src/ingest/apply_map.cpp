// Applying maps.
#include "ingest/apply_map.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "ingest/fold_letters.hpp"
#include "ingest/unit_choice.hpp"
#include "support/safe_text.hpp"

namespace telltale::host {
namespace {

Error misfit(const LogMap& map, std::uint32_t line, std::string what,
             std::string remedy) {
  return {std::move(what), fmt::format("{}:{}", map.path, line),
          std::move(remedy)};
}

bool has_header(const Column& column, const std::string& header) {
  return column.use.header == header ||
         fold_letters(column.header.text) == fold_letters(header);
}

// The column that an entry means. A header decides over an index: columns may
// have moved since the map was written.
std::optional<std::size_t> column_meant(const MapColumn& entry,
                                        const std::vector<Column>& columns) {
  const bool in_range = entry.index != 0 && entry.index <= columns.size();
  if (entry.header.empty()) {
    return in_range ? std::optional(entry.index - 1) : std::nullopt;
  }
  if (in_range && has_header(columns[entry.index - 1], entry.header)) {
    return entry.index - 1;
  }
  for (std::size_t i = 0; i < columns.size(); ++i) {
    if (has_header(columns[i], entry.header)) return i;
  }
  return std::nullopt;
}

// What the entry says of the column, except for its unit.
void mark(const MapColumn& entry, Column& column) {
  column.plan.role = entry.role;
  if (!entry.set.empty()) column.plan.set = entry.set;
  column.plan.scale = entry.scale;
  column.plan.offset = entry.offset;
  column.plan.missing = entry.missing;
  column.use.why = "as the map says";
  switch (entry.role) {
    case Role::unit:
      column.use.name = "unit";
      break;
    case Role::state:
      column.use.name = "state";
      break;
    case Role::alarm:
      column.use.name = "alarm";
      break;
    case Role::channel:
      column.use.name = info_of(entry.channel).slug;
      column.use.channel = entry.channel;
      column.plan.channel = entry.channel;
      break;
    default:
      break;
  }
}

bool settle_unit(const MapColumn& entry, Column& column) {
  UnitText unit;
  if (entry.unit) {
    unit = {*entry.unit, 1.0};
  } else {
    const UnitChoice choice =
        choose_unit(entry.channel, column.header, column.stats, {});
    if (!choice.unit) return false;
    unit = *choice.unit;
    column.use.why += "; " + choice.why;
  }
  const auto there = conversion(unit.unit, info_of(entry.channel).unit);
  if (!there) return false;
  column.use.unit = column.plan.unit = unit.unit;
  column.plan.scale *= unit.scale;
  column.plan.offset *= unit.scale;
  column.plan.to_canonical = *there;
  return true;
}

}  // namespace

std::optional<Error> apply_map_columns(const LogMap& map,
                                       const std::string& log,
                                       std::vector<Column>& columns) {
  for (const MapColumn& entry : map.columns) {
    const auto index = column_meant(entry, columns);
    if (!index) {
      // A tall table's readings are named by header alone.
      if (entry.index == 0 && !entry.header.empty()) continue;
      return misfit(map, entry.line,
                    entry.header.empty()
                        ? fmt::format("{} has no column {}, only {}", log,
                                      entry.index, columns.size())
                        : fmt::format("{} has no column \"{}\"", log,
                                      printable(entry.header, 60)),
                    "correct the map, or leave the column out of it");
    }
    Column& column = columns[*index];
    if (!column.use.why.empty()) {
      return misfit(map, entry.line,
                    fmt::format("column {} is described twice", *index + 1),
                    "leave one out");
    }
    if (!entry.has_role) {
      // Only a unit or the like: what it is, the log says itself.
      if (entry.unit) column.header.unit = UnitText{*entry.unit, 1.0};
      column.plan.scale = entry.scale;
      column.plan.offset = entry.offset;
      column.plan.missing = entry.missing;
      continue;
    }
    mark(entry, column);
    if (entry.role == Role::channel && !settle_unit(entry, column)) {
      return misfit(map, entry.line,
                    fmt::format("the unit of column {} can't be told from the "
                                "log",
                                *index + 1),
                    "give it: unit = \"...\"");
    }
  }
  return std::nullopt;
}

void apply_map_readings(const LogMap& map, std::vector<Column>& readings) {
  for (const MapColumn& entry : map.columns) {
    if (!entry.has_role || entry.header.empty()) continue;
    for (Column& reading : readings) {
      if (!has_header(reading, entry.header) || !reading.use.why.empty()) {
        continue;
      }
      mark(entry, reading);
      if (entry.role == Role::channel && !settle_unit(entry, reading)) {
        reading.use = {reading.use.header, "", Channel::none, LogUnit::none,
                       "its unit can't be told"};
        reading.plan.role = Role::ignored;
      }
      break;
    }
  }
}

Result<TimeColumns> time_of_map(const LogMap& map, const std::string& log,
                                const Table& table,
                                const std::vector<std::size_t>& rows,
                                const std::vector<Column>& columns) {
  const MapTime& time = *map.time;
  const auto found = find_time_candidates(table, rows, columns);
  const auto candidate = [&](std::size_t number,
                             const std::optional<StampStyle>& style,
                             bool clock) -> Result<TimeCandidate> {
    if (number > columns.size()) {
      return misfit(map, time.line,
                    fmt::format("{} has no column {}, only {}", log, number,
                                columns.size()),
                    "correct the map");
    }
    if (style) {
      TimeCandidate given;
      given.column = number - 1;
      given.kind = style->kind;
      given.styles = {*style};
      given.why = "as the map says";
      return given;
    }
    for (const TimeCandidate& c : found) {
      const bool fits = clock ? c.kind == StampKind::clock : true;
      if (c.column + 1 == number && fits) {
        TimeCandidate named = c;
        named.why = "as the map says; " + c.why;
        return named;
      }
    }
    return misfit(
        map, time.line,
        fmt::format("how column {} writes the time can't be told", number),
        "give its format: format = \"%Y-%m-%d %H:%M:%S\"");
  };
  if (time.column == 0 && time.date == 0) {
    // Only a format or a zone: the columns are the log's own.
    TimeColumns chosen;
    for (const TimeCandidate& c : found) {
      if (chosen.main.styles.empty() || c.score > chosen.main.score) {
        chosen.main = c;
      }
    }
    if (chosen.main.styles.empty()) {
      return misfit(map, time.line, "no column tells the time",
                    "say which: column = 1");
    }
    if (time.style) {
      chosen.main.styles = {*time.style};
      chosen.main.kind = time.style->kind;
    }
    return chosen;
  }
  TimeColumns chosen;
  auto main =
      candidate(time.column != 0 ? time.column : time.date, time.style, false);
  if (!main) return main.error();
  chosen.main = std::move(*main);
  if (time.date != 0) {
    auto clock = candidate(time.time_of_day, time.time_of_day_style, true);
    if (!clock) return clock.error();
    chosen.clock = std::move(*clock);
  }
  for (const TimeCandidate& c : found) {
    if (c.column != chosen.main.column &&
        (!chosen.clock || c.column != chosen.clock->column)) {
      chosen.others.push_back(c);
    }
  }
  return chosen;
}

}  // namespace telltale::host
