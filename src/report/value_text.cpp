#include "report/value_text.hpp"

#include <fmt/format.h>

#include <cmath>

namespace telltale::host {
namespace {

LogUnit us_unit(Unit unit) {
  switch (unit) {
    case Unit::degC:
      return LogUnit::degF;
    case Unit::kPa:
      return LogUnit::psi;
    case Unit::L_h:
      return LogUnit::gal_h;
    default:
      return as_log_unit(unit);
  }
}

int decimals_of(LogUnit unit, Channel channel) {
  switch (unit) {
    case LogUnit::Hz:
    case LogUnit::bar:
      return 2;
    case LogUnit::kPa:
    case LogUnit::mbar:
    case LogUnit::rpm:
    case LogUnit::W:
      return 0;
    case LogUnit::MPa:
      return 3;
    case LogUnit::V:
      return channel == Channel::battery_voltage ? 2 : 1;
    case LogUnit::one:
      return channel == Channel::start_count ? 0 : 2;
    default:
      return 1;
  }
}

std::string with_unit(double value, int decimals, std::string_view symbol) {
  std::string text = grouped(value, decimals);
  if (symbol.empty()) return text;
  return fmt::format("{} {}", text, symbol);
}

}  // namespace

ValueText::ValueText(UnitSystem system, const LogLayout& layout)
    : layout_(&layout), system_(system) {
  for (const ColumnUse& column : layout.columns) {
    if (column.channel == Channel::none) continue;
    by_channel_[index_of(column.channel)] = column.unit;
    if (system != UnitSystem::as_logged) continue;
    const Quantity quantity = quantity_of(column.unit);
    if (quantity == Quantity::temperature) temperature_ = column.unit;
    if (quantity == Quantity::pressure) pressure_ = column.unit;
  }
  if (system == UnitSystem::us) {
    temperature_ = LogUnit::degF;
    pressure_ = LogUnit::psi;
  }
}

LogUnit ValueText::unit_of(Channel channel) const {
  const Unit canonical = info_of(channel).unit;
  if (system_ == UnitSystem::us) return us_unit(canonical);
  const LogUnit logged = by_channel_[index_of(channel)];
  const bool known = system_ == UnitSystem::as_logged &&
                     conversion(logged, canonical).has_value();
  return known ? logged : as_log_unit(canonical);
}

LogUnit ValueText::unit_for(Unit unit, Channel channel) const {
  if (channel != Channel::none && info_of(channel).unit == unit) {
    return unit_of(channel);
  }
  if (unit == Unit::degC) return temperature_;
  if (unit == Unit::kPa) return pressure_;
  return system_ == UnitSystem::us ? us_unit(unit) : as_log_unit(unit);
}

double ValueText::shown(double value, Channel channel) const {
  const auto change = conversion(unit_of(channel), info_of(channel).unit);
  return change ? change->from_canonical(value) : value;
}

std::string ValueText::number(double value, Channel channel) const {
  return grouped(shown(value, channel), decimals_of(unit_of(channel), channel));
}

std::string ValueText::say(double value, Unit unit, Channel channel) const {
  if (!std::isfinite(value)) return "unknown";
  if (unit == Unit::s) return duration_text(value);
  if (unit == Unit::one) {
    return value == std::floor(value) ? grouped(value, 0) : grouped(value, 1);
  }
  if (unit == Unit::K || unit == Unit::K_per_min) {
    const bool fahrenheit = temperature_ == LogUnit::degF;
    const std::string_view minute = unit == Unit::K ? "" : " a minute";
    return with_unit(fahrenheit ? value * 1.8 : value, unit == Unit::K ? 1 : 2,
                     fmt::format("{}{}", fahrenheit ? "°F" : "°C", minute));
  }
  const LogUnit shown_in = unit_for(unit, channel);
  const auto change = conversion(shown_in, unit);
  const double converted = change ? change->from_canonical(value) : value;
  return with_unit(converted, decimals_of(shown_in, channel),
                   symbol_of(shown_in));
}

std::string ValueText::stamp(TimeMs logged) const {
  std::string text = format_time(logged, *layout_);
  if (layout_->elapsed) return text;
  const std::size_t t = text.find('T');
  if (t != std::string::npos) text[t] = ' ';
  return text;
}

std::string ValueText::clock(TimeMs logged) const {
  std::string text = format_time(logged, *layout_);
  if (layout_->elapsed) return text;
  const std::size_t t = text.find('T');
  if (t == std::string::npos) return text;
  text.erase(0, t + 1);
  if (!text.empty() && text.back() == 'Z') text.pop_back();
  return text;
}

std::string duration_text(double seconds) {
  if (!std::isfinite(seconds)) return "unknown";
  if (seconds < 10 && seconds != std::floor(seconds)) {
    return fmt::format("{:.1f} s", seconds);
  }
  const auto whole = static_cast<long long>(std::llround(seconds));
  if (whole < 100) return fmt::format("{} s", whole);
  if (whole < 3600) {
    return whole % 60 == 0
               ? fmt::format("{} min", whole / 60)
               : fmt::format("{} min {:02} s", whole / 60, whole % 60);
  }
  const long long minutes = (whole + 30) / 60;
  if (minutes < 48 * 60) {
    return minutes % 60 == 0
               ? fmt::format("{} h", minutes / 60)
               : fmt::format("{} h {:02} min", minutes / 60, minutes % 60);
  }
  return fmt::format("{:.1f} days", static_cast<double>(whole) / 86400.0);
}

std::string grouped(double value, int decimals) {
  std::string text = fmt::format("{:.{}f}", value, decimals);
  const std::size_t point = text.find('.');
  std::size_t end = point == std::string::npos ? text.size() : point;
  const std::size_t first = text[0] == '-' ? 1 : 0;
  if (text.find_first_not_of("-0.") == std::string::npos && first == 1) {
    text.erase(0, 1);  // no minus zero
    return text;
  }
  if (end - first <= 4) return text;  // 3600 rpm needs no comma
  while (end > first + 3) {
    end -= 3;
    text.insert(end, ",");
  }
  return text;
}

}  // namespace telltale::host
