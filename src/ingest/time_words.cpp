// Words for times.
#include "ingest/time_words.hpp"

#include <fmt/format.h>

#include <cstdlib>
#include <set>

#include "ingest/stamp_format.hpp"
#include "support/civil_time.hpp"

namespace telltale::host {
namespace {

std::string words_for(const StampStyle& style) {
  switch (style.kind) {
    case StampKind::epoch:
      return style.ms_per_count == 1e3    ? "seconds since 1970"
             : style.ms_per_count == 1.0  ? "milliseconds since 1970"
             : style.ms_per_count == 1e-3 ? "microseconds since 1970"
                                          : "nanoseconds since 1970";
    case StampKind::elapsed:
      return style.ms_per_count == 1e3     ? "elapsed seconds"
             : style.ms_per_count == 6e4   ? "elapsed minutes"
             : style.ms_per_count == 3.6e6 ? "elapsed hours"
             : style.ms_per_count == 1.0   ? "elapsed milliseconds"
                                           : "elapsed microseconds";
    case StampKind::elapsed_clock:
      return "elapsed h:mm:ss";
    case StampKind::serial:
      return "spreadsheet day numbers";
    default:
      break;
  }
  const auto format = StampFormat::compile(style.pattern);
  return format ? format->in_words() : style.pattern;
}

}  // namespace

std::string words_for_time(const DecodePlan& plan) {
  std::string words = words_for(plan.time);
  if (plan.split_time) words += " and " + words_for(plan.time_of_day);
  return words;
}

std::string words_for_zone(std::int32_t minutes) {
  if (minutes == 0) return "UTC";
  return fmt::format("zone {}{:02}:{:02}", minutes < 0 ? '-' : '+',
                     std::abs(minutes) / 60, std::abs(minutes) % 60);
}

std::string words_for_day(std::int64_t ms) {
  const CivilDate date = civil_from_days(split_days(ms).days);
  return fmt::format("{:04}-{:02}-{:02}", date.year, date.month, date.day);
}

bool has_own_zone(const DecodePlan& plan) {
  return plan.time.kind == StampKind::epoch ||
         plan.time.pattern.find("%z") != std::string::npos ||
         plan.time_of_day.pattern.find("%z") != std::string::npos;
}

std::optional<std::int64_t> day_in_preamble(const Table& table,
                                            const HeaderPlace& place) {
  std::set<std::int64_t> days;
  const std::size_t end = place.header.value_or(0);
  for (std::size_t i = 0; i < end; ++i) {
    std::string_view text = table.rows[i].record->text;
    if (has_width(table.rows[i], table.width)) continue;  // data
    while (!text.empty()) {
      const std::size_t stop =
          std::min(text.find_first_of(" ,;\t|=\""), text.size());
      const std::string_view word = text.substr(0, stop);
      const auto patterns = guess_patterns(word, false);
      if (patterns.size() == 1 ||
          (!patterns.empty() && patterns.front().starts_with("%d."))) {
        Stamp stamp;
        const auto format = StampFormat::compile(patterns.front());
        if (format && format->has_date() && format->parse(word, stamp)) {
          days.insert(split_days(stamp.ms).days);
        }
      }
      text.remove_prefix(std::min(stop + 1, text.size()));
    }
  }
  if (days.size() != 1) return std::nullopt;
  return *days.begin() * kMsPerDay;
}

}  // namespace telltale::host
