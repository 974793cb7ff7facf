// The search for time columns.
#include "ingest/time_columns.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <map>

#include "ingest/missing.hpp"
#include "ingest/time_header.hpp"

namespace telltale::host {
namespace {

StampKind kind_of(const StampFormat& format) {
  if (!format.has_clock()) return StampKind::date;
  return format.has_date() ? StampKind::calendar : StampKind::clock;
}

// A column of stamps: the patterns that read (nearly) all of them.
std::optional<TimeCandidate> patterned(const Table& table,
                                       const std::vector<std::size_t>& rows,
                                       std::size_t column, bool digits_too,
                                       const HeaderName& header) {
  std::vector<StampFormat> formats;
  std::size_t seen = 0;
  std::vector<std::size_t> reads;
  for (const std::size_t row : rows) {
    const std::string& cell = table.rows[row].cells[column];
    if (is_missing_word(cell)) continue;
    ++seen;
    if (seen <= 40 || formats.empty()) {
      for (const std::string& pattern : guess_patterns(cell, digits_too)) {
        const bool known = std::any_of(formats.begin(), formats.end(),
                                       [&](const StampFormat& format) {
                                         return format.pattern() == pattern;
                                       });
        if (!known && formats.size() < 12) {
          formats.push_back(*StampFormat::compile(pattern));
          reads.push_back(0);
        }
      }
      if (seen > 60 && formats.empty()) return std::nullopt;
    }
  }
  if (formats.empty()) return std::nullopt;
  for (const std::size_t row : rows) {
    const std::string& cell = table.rows[row].cells[column];
    if (is_missing_word(cell)) continue;
    Stamp stamp;
    for (std::size_t i = 0; i < formats.size(); ++i) {
      reads[i] += formats[i].parse(cell, stamp);
    }
  }
  const std::size_t most = *std::max_element(reads.begin(), reads.end());
  // A column that says it is time is one though many stamps are broken.
  const bool named = is_time_header(header);
  if (most * 10 < seen * (named && !digits_too ? 5 : 8)) return std::nullopt;
  TimeCandidate found;
  found.column = column;
  for (std::size_t i = 0; i < formats.size(); ++i) {
    // A wrong order of day and month fails from the 13th on.
    if (reads[i] == most) {
      found.styles.push_back({kind_of(formats[i]), formats[i].pattern(), 1.0});
    }
  }
  // "09.03.07" can be both; its header may say which.
  const auto is_clock = [](const StampStyle& style) {
    return style.kind == StampKind::clock;
  };
  const bool clock =
      says_clock(header) && !says_date(header) &&
      std::any_of(found.styles.begin(), found.styles.end(), is_clock);
  found.kind = clock ? StampKind::clock : found.styles.front().kind;
  std::erase_if(found.styles, [&](const StampStyle& style) {
    return style.kind != found.kind;
  });
  return found;
}

// h:mm:ss with hours beyond 23, or days in front.
bool all_elapsed(const Table& table, const std::vector<std::size_t>& rows,
                 std::size_t column) {
  std::size_t seen = 0;
  std::size_t good = 0;
  for (const std::size_t row : rows) {
    const std::string& cell = table.rows[row].cells[column];
    if (is_missing_word(cell)) continue;
    ++seen;
    good += parse_elapsed(cell).has_value();
  }
  return good > 0 && good * 10 >= seen * 9;
}

std::int64_t first_elapsed(const Table& table,
                           const std::vector<std::size_t>& rows,
                           std::size_t column) {
  for (const std::size_t row : rows) {
    if (const auto ms = parse_elapsed(table.rows[row].cells[column])) {
      return *ms;
    }
  }
  return 0;
}

// Median step between neighbours that follow each other.
double median_step(const ColumnStats& stats) {
  std::vector<double> steps;
  for (std::size_t i = 1; i < stats.values.size(); ++i) {
    const double step = stats.values[i] - stats.values[i - 1];
    if (step > 0) steps.push_back(step);
  }
  if (steps.empty()) return 0;
  std::nth_element(
      steps.begin(),
      steps.begin() + static_cast<std::ptrdiff_t>(steps.size() / 2),
      steps.end());
  return steps[steps.size() / 2];
}

std::size_t rises(const ColumnStats& stats) {
  std::size_t count = 0;
  for (std::size_t i = 1; i < stats.values.size(); ++i) {
    count += stats.values[i] >= stats.values[i - 1];
  }
  return count;
}

std::optional<TimeCandidate> counted(const HeaderName& header,
                                     const ColumnStats& stats,
                                     std::size_t column) {
  if (!stats.mostly_numbers() || stats.numbers < 1) return std::nullopt;
  TimeCandidate found;
  found.column = column;
  const double low = stats.quantile(0.02);
  const double high = stats.quantile(0.98);
  const bool mostly_rising =
      stats.numbers < 3 || rises(stats) * 10 >= (stats.numbers - 1) * 8;
  const bool hinted = says_epoch(header) || says_elapsed(header) ||
                      says_date(header) || says_clock(header);
  struct Epoch {
    double ms_per_count;
    std::string_view name;
  };
  // 2001-09-09 to 2106-02-07 in seconds, and its thousandths.
  constexpr double kFirst = 1e9;
  constexpr double kLast = 4294967296.0;
  for (const Epoch& epoch :
       {Epoch{1e3, "seconds"}, Epoch{1.0, "milliseconds"},
        Epoch{1e-3, "microseconds"}, Epoch{1e-6, "nanoseconds"}}) {
    const double factor = 1e3 / epoch.ms_per_count;
    const bool inside = low >= kFirst * factor && high <= kLast * factor;
    if (!inside || !mostly_rising || (!hinted && stats.numbers < 3)) continue;
    found.kind = StampKind::epoch;
    found.styles = {{StampKind::epoch, "", epoch.ms_per_count}};
    found.score = hinted ? 95 : 60;
    found.why = std::string(epoch.name) + " since 1970";
    return found;
  }
  if (!hinted || !mostly_rising) return std::nullopt;
  // Days since 1899-12-30: 1954 to 2119.
  const bool wants_date = says_date(header) || says_clock(header);
  if (wants_date && low > 20000 && high < 80000 && !stats.integers) {
    found.kind = StampKind::serial;
    found.styles = {{StampKind::serial, "", 8.64e7}};
    found.score = 80;
    found.why = "a spreadsheet's day numbers";
    return found;
  }
  if (header.unit && header.unit->unit != LogUnit::h &&
      quantity_of(header.unit->unit) != Quantity::time) {
    return std::nullopt;
  }
  if (!says_elapsed(header) && !says_clock(header)) return std::nullopt;
  found.kind = StampKind::elapsed;
  double ms_per_count = 1e3;
  std::string unit = "seconds";
  const double step = median_step(stats);
  if (header.unit && quantity_of(header.unit->unit) == Quantity::time) {
    switch (header.unit->unit) {
      case LogUnit::h:
        ms_per_count = 3.6e6;
        unit = "hours";
        break;
      case LogUnit::min:
        ms_per_count = 6e4;
        unit = "minutes";
        break;
      default:
        ms_per_count = 1e3 * header.unit->scale;
        if (header.unit->scale != 1.0) unit = "milliseconds";
    }
    found.why = "elapsed " + unit + " by its header";
  } else if (says(header, {"ms", "millis", "msec"})) {
    ms_per_count = 1.0;
    found.why = "elapsed milliseconds by its header";
  } else if (stats.integers && step >= 20 &&
             (std::fmod(step, 50.0) == 0 || step == 20 || step == 40) &&
             step != 300 && step != 600 && step != 900) {
    // Loggers' intervals: 20, 50, 100, 200, 500, 1000 ms; 30, 60, 300 s.
    ms_per_count = 1.0;
    found.why = "elapsed time in steps of " +
                std::to_string(static_cast<long>(step)) +
                ": taken for milliseconds";
  } else {
    found.why = "elapsed time, taken for seconds";
  }
  found.styles = {{StampKind::elapsed, "", ms_per_count}};
  found.score = 55 + (says_elapsed(header) ? 5 : 0) +
                (header.unit && header.unit->unit == LogUnit::h ? -30 : 0);
  return found;
}

std::optional<TimeCandidate> candidate_of(const Table& table,
                                          const std::vector<std::size_t>& rows,
                                          const HeaderName& header,
                                          const ColumnStats& stats,
                                          std::size_t column) {
  if (stats.mostly_numbers()) {
    // 20260601080000, 20260601: digits that are a stamp.
    const bool dated = says_date(header) || says_clock(header);
    if (dated && stats.integers && stats.quantile(0.5) > 1.9e7) {
      if (auto digits = patterned(table, rows, column, true, header)) {
        digits->score = digits->kind == StampKind::calendar ? 90 : 60;
        digits->why = "digits of a date";
        return digits;
      }
    }
    return counted(header, stats, column);
  }
  if (stats.texts == 0) return std::nullopt;
  auto found = patterned(table, rows, column, false, header);
  const bool elapsed = all_elapsed(table, rows, column);
  if (!found || (found->kind == StampKind::clock && elapsed)) {
    if (!elapsed) return std::nullopt;
    TimeCandidate clock;
    clock.column = column;
    const bool starts_low =
        std::abs(first_elapsed(table, rows, column)) < 60000;
    if (!found || starts_low || says_elapsed(header)) {
      clock.kind = StampKind::elapsed_clock;
      if (found) clock.clock_pattern = found->styles.front().pattern;
      clock.styles = {{StampKind::elapsed_clock, "", 1.0}};
      clock.score = says_elapsed(header) || says_clock(header) ? 70 : 50;
      clock.why = says_elapsed(header) ? "elapsed time by its header"
                  : starts_low         ? "a clock that starts below one minute"
                                       : "hours beyond 23: elapsed time";
      return clock;
    }
  }
  switch (found->kind) {
    case StampKind::calendar:
      found->score = 100;
      found->why = "date and time";
      break;
    case StampKind::date:
      found->score = 40;
      found->why = "date";
      break;
    default:
      found->score = 45;
      found->why = "time of day";
  }
  if (is_time_header(header)) found->score += 10;
  const bool has_zone =
      found->styles.front().pattern.find("%z") != std::string::npos;
  if (has_zone || header.zone_min) found->score += 5;
  // "time on", "time off", "last start": times of something else.
  if (says(header, {"on", "off", "end", "stop", "start", "last", "first",
                    "raised", "cleared", "begin"})) {
    found->score -= 20;
  }
  return found;
}

}  // namespace

std::vector<TimeCandidate> find_time_candidates(
    const Table& table, const std::vector<std::size_t>& rows,
    const std::vector<Column>& columns) {
  std::vector<TimeCandidate> all;
  for (std::size_t i = 0; i < columns.size(); ++i) {
    const Column& column = columns[i];
    if (auto found =
            candidate_of(table, rows, column.header, column.stats, i)) {
      all.push_back(*std::move(found));
    }
  }
  return all;
}

std::optional<TimeColumns> choose_time_columns(
    const std::vector<TimeCandidate>& candidates,
    const std::vector<bool>& taken) {
  std::vector<TimeCandidate> all;
  for (const TimeCandidate& candidate : candidates) {
    if (!taken[candidate.column]) all.push_back(candidate);
  }
  if (all.empty()) return std::nullopt;
  // A date and a time of day make one.
  const TimeCandidate* date = nullptr;
  const TimeCandidate* clock = nullptr;
  for (const TimeCandidate& candidate : all) {
    const bool is_clock = candidate.kind == StampKind::clock ||
                          candidate.kind == StampKind::elapsed_clock;
    if (candidate.kind == StampKind::date &&
        (date == nullptr || candidate.score > date->score)) {
      date = &candidate;
    }
    if (is_clock && (clock == nullptr || candidate.score > clock->score)) {
      clock = &candidate;
    }
  }
  TimeColumns columns;
  const auto best =
      std::max_element(all.begin(), all.end(),
                       [](const TimeCandidate& a, const TimeCandidate& b) {
                         return a.score < b.score;
                       });
  if (date != nullptr && clock != nullptr && best->score < 95) {
    columns.main = *date;
    columns.clock = *clock;
    if (clock->kind == StampKind::elapsed_clock) {
      // Beside a date it is a time of day, also just after midnight.
      if (clock->clock_pattern.empty()) {
        columns.clock.reset();
      } else {
        columns.clock->kind = StampKind::clock;
        columns.clock->styles = {{StampKind::clock, clock->clock_pattern, 1.0}};
        columns.clock->why = "time of day";
      }
    }
  } else {
    columns.main = *best;
  }
  if (columns.main.kind == StampKind::date && !columns.clock) {
    columns.main = *best;
  }
  for (const TimeCandidate& candidate : all) {
    if (candidate.column != columns.main.column &&
        (!columns.clock || candidate.column != columns.clock->column)) {
      columns.others.push_back(candidate);
    }
  }
  return columns;
}

}  // namespace telltale::host
