// ScatterChart: one channel over another, with a line, as SVG.
#pragma once

#include <fmt/format.h>

#include <string>
#include <utility>
#include <vector>

#include "summary/picture_scatter.hpp"
#include "support/units.hpp"

namespace telltale::host {

struct ScatterChart {
  std::vector<PictureScatter::Cell> cells;  // canonical units
  Conversion x_unit;                        // canonical to shown, both
  Conversion y_unit;
  std::string x_title;  // with unit
  std::string y_title;
  std::string id;
  std::string title;
  std::string description;
  /// The line to draw over the cells, canonical; breaks at NaN.
  std::vector<std::pair<double, double>> line;
  std::string line_label;

  /// Appends <svg>. Early readings are rings, late ones are filled.
  void draw(fmt::memory_buffer& out) const;
};

}  // namespace telltale::host
