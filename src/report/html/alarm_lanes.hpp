// AlarmLanes: which of the controller's alarms stood when, as SVG.
#pragma once

#include <fmt/format.h>

#include <cstddef>
#include <span>
#include <string>
#include <vector>

#include "report/html/time_chart.hpp"
#include "report/value_text.hpp"
#include "summary/picture.hpp"

namespace telltale::host {

struct AlarmLanes {
  /// More alarms than these are counted, not drawn.
  static constexpr std::size_t kMostLanes = 12;

  const Picture* picture = nullptr;
  std::span<const std::string> names{};  // HealthReport::alarm_names
  TimeMs from = kNoTime;                 // analysis clock
  TimeMs to = kNoTime;
  DurationMs ahead{};
  double width = 520.0;
  double left = 60.0;  // of the time axis: in line with a TimeChart
  double right = 512.0;
  std::string id{};  // unique in the document
  std::vector<Mark> windows{};

  /// The alarms that stood, by bit, in the order they came.
  [[nodiscard]] std::vector<std::size_t> bits() const;
  /// Appends <svg>. REQUIRES: bits() is not empty.
  void draw(const ValueText& text, fmt::memory_buffer& out) const;
};

}  // namespace telltale::host
