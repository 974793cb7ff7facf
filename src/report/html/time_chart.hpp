// TimeChart: one track of a picture over time, as SVG.
#pragma once

#include <fmt/format.h>

#include <cstddef>
#include <string>
#include <vector>

#include "report/value_text.hpp"
#include "summary/picture.hpp"

namespace telltale::host {

/// A stretch of time to be marked, with a short label.
struct Mark {
  TimeMs from = kNoTime;
  TimeMs to = kNoTime;
  std::string label;
};

struct TimeChart {
  const Picture* picture = nullptr;
  std::size_t track = 0;
  TimeMs from = kNoTime;  // analysis clock
  TimeMs to = kNoTime;
  DurationMs ahead{};  // the log's stamps against the analysis clock
  std::string id;      // unique in the document
  std::string title;
  std::string description;
  std::vector<Mark> windows;                                // findings
  std::vector<Mark> shades;                                 // time on load
  std::vector<TimeMs> steps;                                // load steps
  double limit = std::numeric_limits<double>::quiet_NaN();  // as shown
  std::string limit_label;
  /// Values to scale by, canonical; empty: all of the picture. What lies beyond
  /// is drawn at the edge.
  Range scale;
  double height = 164.0;  // of 520 across

  /// Appends <svg>. Text is escaped here. No column, no extreme is left out.
  void draw(const ValueText& text, fmt::memory_buffer& out) const;
};

}  // namespace telltale::host
