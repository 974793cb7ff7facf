// Calendar arithmetic is the C++ library's; the rest is digits.
#include "simulate/stamp.hpp"

#include <fmt/format.h>

#include <chrono>
#include <iterator>

namespace telltale::host::sim {
namespace {

constexpr std::int64_t kDayMs = 86400000;

std::int64_t floor_div(std::int64_t a, std::int64_t b) {
  return a >= 0 ? a / b : -((-a + b - 1) / b);
}

void two_digits(std::string& out, std::int64_t value) {
  out += static_cast<char>('0' + value / 10);
  out += static_cast<char>('0' + value % 10);
}

}  // namespace

bool is_elapsed(TimeStyle style) {
  return style == TimeStyle::elapsed_s || style == TimeStyle::elapsed_hms;
}

bool zone_known(const LogFormat& format) {
  switch (format.time) {
    case TimeStyle::iso_utc:
    case TimeStyle::iso_offset:
    case TimeStyle::epoch_s:
    case TimeStyle::epoch_ms:
      return true;
    default:
      return false;
  }
}

std::optional<TimeMs> parse_stamp(std::string_view text) {
  if (!text.empty() && text.back() == 'Z') text.remove_suffix(1);
  constexpr std::string_view kShape = "0000-00-00 00:00:00";
  if (text.size() != kShape.size()) return std::nullopt;
  const auto digits = [text](std::size_t at, std::size_t count) {
    int value = 0;
    for (std::size_t i = at; i < at + count; ++i) {
      value = value * 10 + (text[i] - '0');
    }
    return value;
  };
  for (std::size_t i = 0; i < text.size(); ++i) {
    const bool digit = text[i] >= '0' && text[i] <= '9';
    const bool fits = kShape[i] == '0'   ? digit
                      : kShape[i] == ' ' ? text[i] == ' ' || text[i] == 'T'
                                         : text[i] == kShape[i];
    if (!fits) return std::nullopt;
  }
  const std::chrono::year_month_day date{
      std::chrono::year{digits(0, 4)},
      std::chrono::month{static_cast<unsigned>(digits(5, 2))},
      std::chrono::day{static_cast<unsigned>(digits(8, 2))}};
  const int hour = digits(11, 2);
  const int minute = digits(14, 2);
  const int second = digits(17, 2);
  if (!date.ok() || hour > 23 || minute > 59 || second > 59) {
    return std::nullopt;
  }
  const std::int64_t day =
      std::chrono::sys_days{date}.time_since_epoch().count();
  return TimeMs{day * kDayMs + ((hour * 60 + minute) * 60 + second) * 1000LL};
}

StampWriter::StampWriter(TimeStyle style, int utc_offset_min, TimeMs first,
                         int decimals, char column_separator, char decimal)
    : style_(style),
      offset_min_(style == TimeStyle::iso_utc ? 0 : utc_offset_min),
      first_ms_(first.ms),
      decimals_(decimals),
      separator_(column_separator),
      decimal_(decimal) {}

void StampWriter::day_text(std::int64_t day) {
  day_ = day;
  const std::chrono::year_month_day date{
      std::chrono::sys_days{std::chrono::days{day}}};
  const int year = static_cast<int>(date.year());
  const auto month = static_cast<unsigned>(date.month());
  const auto mday = static_cast<unsigned>(date.day());
  switch (style_) {
    case TimeStyle::day_first:
      day_text_ = fmt::format("{:02}.{:02}.{:04} ", mday, month, year);
      break;
    case TimeStyle::month_first:
    case TimeStyle::twelve_hour:
      day_text_ = fmt::format("{:02}/{:02}/{:04} ", month, mday, year);
      break;
    case TimeStyle::iso:
      day_text_ = fmt::format("{:04}-{:02}-{:02} ", year, month, mday);
      break;
    case TimeStyle::two_columns:
      day_text_ =
          fmt::format("{:04}-{:02}-{:02}{}", year, month, mday, separator_);
      break;
    default:
      day_text_ = fmt::format("{:04}-{:02}-{:02}T", year, month, mday);
  }
}

void StampWriter::append_seconds(std::string& out, std::int64_t ms, int width,
                                 char mark) const {
  const std::int64_t whole = ms / 1000;
  if (width == 2) {
    two_digits(out, whole);
  } else {
    fmt::format_to(std::back_inserter(out), "{}", whole);
  }
  if (decimals_ == 0) return;
  std::int64_t rest = ms % 1000;
  out += mark;
  std::int64_t unit = 100;
  for (int i = 0; i < decimals_; ++i, unit /= 10) {
    out += static_cast<char>('0' + rest / unit);
    rest %= unit;
  }
}

void StampWriter::append_clock(std::string& out, std::int64_t ms) const {
  std::int64_t hour = ms / 3600000;
  const bool afternoon = hour >= 12;
  if (style_ == TimeStyle::twelve_hour) {
    hour %= 12;
    if (hour == 0) hour = 12;
  }
  two_digits(out, hour);
  out += ':';
  two_digits(out, ms / 60000 % 60);
  out += ':';
  append_seconds(out, ms % 60000, 2);
  if (style_ == TimeStyle::twelve_hour) out += afternoon ? " PM" : " AM";
}

void StampWriter::append(std::string& out, TimeMs stamp) {
  switch (style_) {
    case TimeStyle::epoch_s:
      append_seconds(out, stamp.ms, 0, decimal_);
      return;
    case TimeStyle::epoch_ms:
      fmt::format_to(std::back_inserter(out), "{}", stamp.ms);
      return;
    case TimeStyle::elapsed_s:
    case TimeStyle::elapsed_hms: {
      std::int64_t ms = stamp.ms - first_ms_;
      if (ms < 0) {  // a clock set back before the first row
        out += '-';
        ms = -ms;
      }
      if (style_ == TimeStyle::elapsed_s) {
        append_seconds(out, ms, 0, decimal_);
        return;
      }
      fmt::format_to(std::back_inserter(out), "{}:", ms / 3600000);
      two_digits(out, ms / 60000 % 60);
      out += ':';
      append_seconds(out, ms % 60000, 2);
      return;
    }
    default:
      break;
  }
  const std::int64_t local = stamp.ms + std::int64_t{offset_min_} * 60000;
  const std::int64_t day = floor_div(local, kDayMs);
  if (day != day_) day_text(day);
  out += day_text_;
  append_clock(out, local - day * kDayMs);
  if (style_ == TimeStyle::iso_utc) out += 'Z';
  if (style_ == TimeStyle::iso_offset) {
    out += offset_min_ < 0 ? '-' : '+';
    const int minutes = offset_min_ < 0 ? -offset_min_ : offset_min_;
    two_digits(out, minutes / 60);
    out += ':';
    two_digits(out, minutes % 60);
  }
}

std::string report_time(const LogFormat& format, TimeMs stamp, TimeMs first) {
  std::string out;
  if (is_elapsed(format.time)) {
    const std::int64_t ms = stamp.ms - first.ms;
    return fmt::format("t+{:.{}f}", static_cast<double>(ms) / 1000.0,
                       ms % 1000 == 0 ? 1 : 3);
  }
  const int decimals = stamp.ms % 1000 == 0 ? 0 : 3;
  if (zone_known(format)) {
    StampWriter(TimeStyle::iso_utc, 0, first, decimals, ' ').append(out, stamp);
    return out;
  }
  // As the logger's own clock has it.
  StampWriter(TimeStyle::iso_offset, format.utc_offset_min, first, decimals,
              ' ')
      .append(out, stamp);
  out.resize(out.size() - 6);
  return out;
}

}  // namespace telltale::host::sim
