// The calendar as arithmetic: dates to day numbers and back, no time zones.
#pragma once

#include <array>
#include <cstdint>

namespace telltale::host {

/// A date of the Gregorian calendar, also before it was in use. Years 1..9999.
struct CivilDate {
  int year = 1970;
  int month = 1;  // 1..12
  int day = 1;    // 1..31

  friend constexpr bool operator==(const CivilDate&,
                                   const CivilDate&) = default;
};

inline constexpr std::int64_t kMsPerSecond = 1000;
inline constexpr std::int64_t kMsPerMinute = 60 * kMsPerSecond;
inline constexpr std::int64_t kMsPerHour = 60 * kMsPerMinute;
inline constexpr std::int64_t kMsPerDay = 24 * kMsPerHour;

constexpr bool is_leap_year(int year) {
  return (year % 4 == 0 && year % 100 != 0) || year % 400 == 0;
}

/// REQUIRES: month is 1..12
constexpr int days_in_month(int year, int month) {
  constexpr std::array<int, 12> kDays = {31, 28, 31, 30, 31, 30,
                                         31, 31, 30, 31, 30, 31};
  return month == 2 && is_leap_year(year)
             ? 29
             : kDays[static_cast<std::size_t>(month - 1)];
}

constexpr bool is_valid_date(int year, int month, int day) {
  return year >= 1 && year <= 9999 && month >= 1 && month <= 12 && day >= 1 &&
         day <= days_in_month(year, month);
}

namespace detail {

// Days from 0001-01-01 to the first of January of `year`: 365 a year and one
// for each leap year gone by.
constexpr std::int64_t days_before_year(std::int64_t year) {
  const std::int64_t past = year - 1;
  return past * 365 + past / 4 - past / 100 + past / 400;
}

constexpr std::int64_t kDaysTo1970 = days_before_year(1970);

constexpr int days_before_month(int year, int month) {
  constexpr std::array<int, 12> kBefore = {0,   31,  59,  90,  120, 151,
                                           181, 212, 243, 273, 304, 334};
  return kBefore[static_cast<std::size_t>(month - 1)] +
         (month > 2 && is_leap_year(year) ? 1 : 0);
}

}  // namespace detail

/// Days since 1970-01-01; negative before.
/// REQUIRES: is_valid_date(year, month, day)
constexpr std::int64_t days_from_civil(int year, int month, int day) {
  return detail::days_before_year(year) +
         detail::days_before_month(year, month) + day - 1 - detail::kDaysTo1970;
}

/// The date of a day number; outside years 1..9999 the nearest day inside.
constexpr CivilDate civil_from_days(std::int64_t days) {
  constexpr std::int64_t kFirst = -detail::kDaysTo1970;
  constexpr std::int64_t kLast =
      detail::days_before_year(10000) - detail::kDaysTo1970 - 1;
  if (days < kFirst) days = kFirst;
  if (days > kLast) days = kLast;
  const std::int64_t since_year_1 = days + detail::kDaysTo1970;
  // 146097 days make 400 years; the guess is at most one year off.
  int year = static_cast<int>(since_year_1 * 400 / 146097) + 1;
  while (detail::days_before_year(year) > since_year_1) --year;
  while (detail::days_before_year(year + 1) <= since_year_1) ++year;
  int in_year = static_cast<int>(since_year_1 - detail::days_before_year(year));
  int month = 1;
  while (in_year >= days_in_month(year, month)) {
    in_year -= days_in_month(year, month);
    ++month;
  }
  return {year, month, in_year + 1};
}

/// Quotient and remainder that round towards minus infinity.
struct DaySplit {
  std::int64_t days;
  std::int64_t ms;  // 0 .. kMsPerDay - 1
};
constexpr DaySplit split_days(std::int64_t ms) {
  std::int64_t days = ms / kMsPerDay;
  std::int64_t rest = ms % kMsPerDay;
  if (rest < 0) {
    rest += kMsPerDay;
    --days;
  }
  return {days, rest};
}

}  // namespace telltale::host
