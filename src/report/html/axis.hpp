// Axis: round ticks for values and for times.
#pragma once

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

}  // namespace telltale::host
