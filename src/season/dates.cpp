#include "season/dates.hpp"

#include <fmt/format.h>

#include <charconv>

#include "report/page.hpp"
#include "support/civil_time.hpp"

namespace telltale::host::season {

TimeMs days_after(TimeMs at, double days) {
  return TimeMs{
      at.ms + static_cast<std::int64_t>(days * static_cast<double>(kMsPerDay))};
}

std::string date_text(TimeMs at) {
  if (!is_set(at)) return "no date";
  const CivilDate d = civil_from_days(split_days(at.ms).days);
  return fmt::format("{:04}-{:02}-{:02}", d.year, d.month, d.day);
}

std::string minute_text(TimeMs at) {
  if (!is_set(at)) return "no date";
  const std::int64_t minute = split_days(at.ms).ms / kMsPerMinute;
  return fmt::format("{} {:02}:{:02}", date_text(at), minute / 60, minute % 60);
}

std::string iso_text(TimeMs at, bool utc) {
  if (!is_set(at)) return "";
  const std::int64_t s = split_days(at.ms).ms / kMsPerSecond;
  return fmt::format("{}T{:02}:{:02}:{:02}{}", date_text(at), s / 3600,
                     s / 60 % 60, s % 60, utc ? "Z" : "");
}

std::optional<TimeMs> parse_date(std::string_view text) {
  if (text.size() != 10 || text[4] != '-' || text[7] != '-') return {};
  int parts[3] = {0, 0, 0};
  constexpr std::size_t kAt[3] = {0, 5, 8};
  constexpr std::size_t kLength[3] = {4, 2, 2};
  for (int i = 0; i < 3; ++i) {
    const char* from = text.data() + kAt[i];
    const char* to = from + kLength[i];
    if (std::from_chars(from, to, parts[i]).ptr != to) return {};
  }
  if (!is_valid_date(parts[0], parts[1], parts[2])) return {};
  return TimeMs{days_from_civil(parts[0], parts[1], parts[2]) * kMsPerDay};
}

std::string cut(std::string_view text, std::size_t columns) {
  if (columns_of(text) <= columns) return std::string(text);
  std::size_t bytes = 0;
  std::size_t used = 0;
  while (bytes < text.size() && used + 1 < columns) {
    ++bytes;
    while (bytes < text.size() &&
           (static_cast<unsigned char>(text[bytes]) & 0xC0U) == 0x80U) {
      ++bytes;
    }
    ++used;
  }
  return std::string(text.substr(0, bytes)) + "…";
}

}  // namespace telltale::host::season
