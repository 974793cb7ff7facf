// Axis: round ticks for values and for times, and where times lie.
#pragma once

#include <fmt/format.h>

#include <algorithm>
#include <cstdint>
#include <string>
#include <vector>

#include "report/value_text.hpp"
#include "telltale/base/time.hpp"

namespace telltale::host {

/// A stretch of values with room around it and round ticks inside.
struct ValueAxis {
  double low = 0.0;
  double high = 1.0;
  int decimals = 0;
  std::vector<double> ticks;

  /// Of the finite ones among low <= high; about `wanted` ticks.
  ValueAxis(double lowest, double highest, int wanted);
  [[nodiscard]] std::string label(double tick) const;
};

struct TimeTick {
  TimeMs at;  // analysis clock
  std::string label;
};

/// Round stamps between two times; `ahead` is added to get the log's stamp.
std::vector<TimeTick> time_ticks(TimeMs from, TimeMs to, DurationMs ahead,
                                 const ValueText& text, int wanted);

/// Times from left to right of a drawing.
struct TimeScale {
  TimeMs from = kNoTime;  // analysis clock
  TimeMs to = kNoTime;
  double left = 0.0;
  double right = 1.0;

  [[nodiscard]] double x(TimeMs at) const {
    const double share =
        static_cast<double>((at - from).ms) /
        static_cast<double>(std::max<std::int64_t>((to - from).ms, 1));
    return left + std::clamp(share, 0.0, 1.0) * (right - left);
  }
};

struct TimeAxis {
  DurationMs ahead{};  // the log's stamps against the analysis clock
  int wanted = 5;      // ticks, about
  double tick_from = 0.0;
  double tick_to = 0.0;
  double text_at = 0.0;  // base line
};

/// Appends ticks, and labels where they do not touch one another or the edge.
void draw_time_axis(const TimeScale& scale, const TimeAxis& axis,
                    const ValueText& text, fmt::memory_buffer& out);

}  // namespace telltale::host
