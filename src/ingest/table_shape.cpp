// Recognising tall tables and groups of columns.
#include "ingest/table_shape.hpp"

#include <algorithm>
#include <map>
#include <set>

#include "ingest/channel_match.hpp"
#include "ingest/missing.hpp"
#include "support/safe_text.hpp"

namespace telltale::host {
namespace {

bool says(const HeaderName& header,
          std::initializer_list<std::string_view> words) {
  return std::any_of(header.tokens.begin(), header.tokens.end(),
                     [&](const std::string& token) {
                       return std::find(words.begin(), words.end(), token) !=
                              words.end();
                     });
}

bool is_value_header(const HeaderName& header) {
  return says(header, {"value", "val", "reading", "measurement", "wert",
                       "messwert", "valeur", "valor", "valore", "waarde",
                       "verdi", "data", "result"});
}

// Sets called A1 and A2 are no amps of two legs.
bool names_sets(const HeaderName& header) {
  return says(header, {"unit", "genset", "vessel", "boat", "machine"});
}

// Whether one column is the other in another time zone.
bool is_shifted_clock(const Table& table, const std::vector<std::size_t>& rows,
                      const TimeCandidate& a, const TimeCandidate& b,
                      char decimal) {
  auto reader_a = StampReader::of(a.styles.front(), decimal);
  auto reader_b = StampReader::of(b.styles.front(), decimal);
  if (!reader_a || !reader_b) return false;
  std::set<std::int64_t> shifts;
  std::size_t both = 0;
  for (const std::size_t row : rows) {
    const auto& cells = table.rows[row].cells;
    std::int64_t x = 0;
    std::int64_t y = 0;
    bool zone = false;
    if (!reader_a->read(cells[a.column], x, zone) ||
        !reader_b->read(cells[b.column], y, zone)) {
      continue;
    }
    shifts.insert(y - x);
    if (++both == 50) break;
  }
  constexpr std::int64_t kQuarterHour = 900000;
  return shifts.size() == 1 && *shifts.begin() != 0 &&
         *shifts.begin() % kQuarterHour == 0;
}

}  // namespace

std::optional<TallColumns> find_tall_columns(
    const Table& table, const std::vector<std::size_t>& rows,
    const std::vector<Column>& columns, const TimeColumns& time) {
  if (columns.size() < 3 || columns.size() > 12) return std::nullopt;
  const auto is_time = [&](std::size_t i) {
    return i == time.main.column || (time.clock && i == time.clock->column);
  };
  TallColumns tall;
  std::size_t best = 0;
  for (std::size_t i = 0; i < columns.size(); ++i) {
    const ColumnStats& stats = columns[i].stats;
    if (is_time(i) || names_sets(columns[i].header) ||
        stats.texts * 10 < stats.cells * 9) {
      continue;
    }
    if (stats.words.size() < 2 || stats.words.size() * 2 > stats.texts)
      continue;
    std::size_t channels = 0;
    for (const auto& [word, count] : stats.words) {
      channels += !claims_of(parse_header(word)).empty();
    }
    if (channels >= 2 && channels * 3 >= stats.words.size() &&
        channels > best) {
      best = channels;
      tall.name = i;
    }
  }
  if (best == 0) return std::nullopt;
  // The value: by its header, or the one column of numbers.
  std::vector<std::size_t> numeric;
  std::vector<std::size_t> named;
  for (std::size_t i = 0; i < columns.size(); ++i) {
    if (is_time(i) || i == tall.name) continue;
    const ColumnStats& stats = columns[i].stats;
    if (stats.numbers * 2 < stats.numbers + stats.texts) continue;
    numeric.push_back(i);
    if (is_value_header(columns[i].header)) named.push_back(i);
  }
  if (named.size() == 1) {
    tall.value = named.front();
  } else if (numeric.size() == 1 &&
             claims_of(columns[numeric.front()].header).empty()) {
    tall.value = numeric.front();
  } else {
    return std::nullopt;
  }
  for (std::size_t i = 0; i < columns.size(); ++i) {
    if (is_time(i) || i == tall.name || i == tall.value) continue;
    const auto& words = columns[i].stats.words;
    std::size_t units = 0;
    for (const auto& [word, count] : words) {
      units += unit_of_text(word).has_value();
    }
    if (!words.empty() && units * 3 >= words.size() * 2) tall.unit = i;
  }
  (void)table;
  (void)rows;
  return tall;
}

std::vector<Column> readings_of(const Table& table,
                                const std::vector<std::size_t>& rows,
                                const TallColumns& tall, DecimalMark decimal) {
  // Rows of each name, in order of appearance.
  std::vector<std::string> names;
  std::map<std::string, std::vector<std::size_t>> rows_of;
  for (const std::size_t row : rows) {
    const std::string name = printable(table.rows[row].cells[tall.name]);
    if (is_missing_word(name)) continue;
    auto& list = rows_of[name];
    if (list.empty()) names.push_back(name);
    list.push_back(row);
    if (names.size() > 400) break;
  }
  std::vector<Column> readings;
  for (const std::string& name : names) {
    Column reading;
    reading.stats = stats_of(table, rows_of[name], tall.value, decimal);
    reading.header = parse_header(name);
    if (tall.unit) {
      std::map<std::string, std::size_t> units;
      for (const std::size_t row : rows_of[name]) {
        const std::string& unit = table.rows[row].cells[*tall.unit];
        if (!is_missing_word(unit) || unit_of_text(unit)) ++units[unit];
      }
      const auto usual = std::max_element(
          units.begin(), units.end(),
          [](const auto& a, const auto& b) { return a.second < b.second; });
      if (usual != units.end() && unit_of_text(usual->first)) {
        reading.plan.unit_text = usual->first;
        if (!reading.header.unit) {
          reading.header = parse_header(name + " (" + usual->first + ")");
        }
      }
    }
    reading.header.text = name;
    reading.use.header = name;
    readings.push_back(std::move(reading));
  }
  return readings;
}

bool is_sorted_by_name(const Table& table, const std::vector<std::size_t>& rows,
                       const TallColumns& tall) {
  std::size_t changes = 0;
  std::size_t pairs = 0;
  std::set<std::string> seen;
  for (std::size_t i = 1; i < rows.size(); ++i) {
    if (!table.rows[rows[i]].follows) continue;
    ++pairs;
    changes += table.rows[rows[i]].cells[tall.name] !=
               table.rows[rows[i - 1]].cells[tall.name];
  }
  // Names that take turns change (nearly) every row.
  return pairs > 8 && changes * 5 < pairs;
}

std::vector<std::size_t> find_group_times(const Table& table,
                                          const std::vector<std::size_t>& rows,
                                          const std::vector<Column>& columns,
                                          const TimeColumns& time,
                                          char decimal) {
  std::vector<std::size_t> times = {time.main.column};
  for (const TimeCandidate& other : time.others) {
    const Column& column = columns[other.column];
    const Column& main = columns[time.main.column];
    if (other.kind != time.main.kind ||
        other.styles.front() != time.main.styles.front()) {
      continue;
    }
    // Stamps that stand still, or of other things, lead no group.
    if (column.stats.words.size() * 2 < main.stats.words.size() ||
        says(column.header, {"last", "start", "stop", "on", "off", "end",
                             "begin", "raised", "cleared", "first"})) {
      continue;
    }
    if (is_shifted_clock(table, rows, time.main, other, decimal)) continue;
    times.push_back(other.column);
  }
  std::sort(times.begin(), times.end());
  if (time.clock || times.size() < 2 || times.front() != 0) return {};
  const auto is_time = [&](std::size_t i) {
    return std::find(times.begin(), times.end(), i) != times.end();
  };
  // Each group holds a reading that is a channel, and the groups are all: a
  // second clock beside a wide table leads no group.
  std::size_t groups = 0;
  for (std::size_t g = 0; g < times.size(); ++g) {
    const std::size_t end =
        g + 1 < times.size() ? times[g + 1] : columns.size();
    bool channel = false;
    for (std::size_t i = times[g] + 1; i < end; ++i) {
      channel |= !is_time(i) && !claims_of(columns[i].header).empty();
    }
    groups += channel;
    if (!channel && g > 0 && !columns[times[g]].header.numbered) return {};
  }
  return groups >= 2 ? times : std::vector<std::size_t>{};
}

}  // namespace telltale::host
