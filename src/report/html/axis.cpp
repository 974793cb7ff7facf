#include "report/html/axis.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <iterator>

#include "support/safe_text.hpp"

namespace telltale::host {
namespace {

/// 1, 2 or 5 times a power of ten, at least `least`.
double round_step(double least) {
  const double power = std::pow(10.0, std::floor(std::log10(least)));
  for (const double lead : {1.0, 2.0, 5.0}) {
    if (lead * power >= least * 0.999) return lead * power;
  }
  return 10.0 * power;
}

std::int64_t round_time_step(std::int64_t least_ms) {
  constexpr std::array<std::int64_t, 25> kSteps = {
      100,        200,         500,         1'000,         2'000,
      5'000,      10'000,      15'000,      30'000,        60'000,
      120'000,    300'000,     600'000,     900'000,       1'800'000,
      3'600'000,  7'200'000,   10'800'000,  21'600'000,    43'200'000,
      86'400'000, 172'800'000, 604'800'000, 1'209'600'000, 2'592'000'000};
  for (const std::int64_t step : kSteps) {
    if (step >= least_ms) return step;
  }
  return (least_ms / kSteps.back() + 1) * kSteps.back();
}

std::string label_of(TimeMs logged, std::int64_t step, const ValueText& text) {
  constexpr std::int64_t kDay = 86'400'000;
  if (step >= kDay) return text.stamp(logged).substr(0, 10);
  std::string label = text.clock(logged);
  const bool clock = label.size() >= 8 && label[2] == ':';
  if (clock && step >= 60'000) label.resize(5);
  return label;
}

}  // namespace

ValueAxis::ValueAxis(double lowest, double highest, int wanted) {
  if (!(lowest <= highest)) {
    lowest = 0.0;
    highest = 1.0;
  }
  const double least = std::max(std::abs(highest), 1.0) * 0.004;
  double room = (highest - lowest) * 0.06;
  if (highest - lowest < least) room = least;
  low = lowest - room;
  high = highest + room;
  if (lowest >= 0.0 && low < 0.0) low = 0.0;
  const double step = round_step((high - low) / wanted);
  decimals =
      std::clamp(static_cast<int>(-std::floor(std::log10(step) + 1e-9)), 0, 6);
  for (double k = std::ceil(low / step - 1e-9); k * step <= high; ++k) {
    ticks.push_back(k * step);
    if (ticks.size() > 40) break;
  }
}

std::string ValueAxis::label(double tick) const {
  return grouped(tick, decimals);
}

std::vector<TimeTick> time_ticks(TimeMs from, TimeMs to, DurationMs ahead,
                                 const ValueText& text, int wanted) {
  std::vector<TimeTick> out;
  const std::int64_t length = std::max<std::int64_t>((to - from).ms, 1);
  const std::int64_t step = round_time_step(length / wanted + 1);
  const std::int64_t start = from.ms + ahead.ms;
  std::int64_t at = start - ((start % step) + step) % step;
  if (at < start) at += step;
  for (; at <= start + length; at += step) {
    const TimeMs logged{at};
    out.push_back({logged - ahead, label_of(logged, step, text)});
  }
  return out;
}

void draw_time_axis(const TimeScale& scale, const TimeAxis& axis,
                    const ValueText& text, fmt::memory_buffer& out) {
  constexpr double kHalfLetter = 4.9;  // of the largest type, on phones
  const auto put = std::back_inserter(out);
  double free = std::max(scale.left - 30.0, 0.0);
  for (const TimeTick& tick :
       time_ticks(scale.from, scale.to, axis.ahead, text, axis.wanted)) {
    const double at = scale.x(tick.at);
    fmt::format_to(put, "<path class=\"grid\" d=\"M{:.1f} {:.0f}V{:.0f}\"/>",
                   at, axis.tick_from, axis.tick_to);
    const double half = static_cast<double>(tick.label.size()) * kHalfLetter;
    if (at - half < free || at + half > scale.right + 8.0) continue;
    free = at + half + 8.0;
    fmt::format_to(put,
                   "<text class=\"middle\" x=\"{:.1f}\" y=\"{:.0f}\">{}</text>",
                   at, axis.text_at, html(tick.label));
  }
}

}  // namespace telltale::host
