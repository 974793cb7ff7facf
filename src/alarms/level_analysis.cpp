#include "alarms/level_analysis.hpp"

#include <algorithm>

namespace telltale::host {

LevelAnalysis::LevelAnalysis(const LogLayout& layout)
    : layout_(layout),
      analysis_(names_, {.interval_s = layout.interval_s}),
      levels_(names_,
              [this](const AlarmEvent& event) { analysis_.add(event); }) {}

void LevelAnalysis::see(const Row& row, const std::vector<std::string>& units,
                        const std::vector<std::string>& alarms) {
  analysis_.reach({row.at, row.logged, row.line});
  levels_.push(row, units, alarms);
}

AlarmReport LevelAnalysis::finish(const LogReader& rows) {
  AlarmReport report;
  report.shape = JournalShape::level;
  report.layout = layout_;
  report.tally = rows.tally();
  report.notes = rows.notes();
  analysis_.finish(report);
  return report;
}

bool names_alarms(const LogLayout& layout) {
  return std::any_of(
      layout.columns.begin(), layout.columns.end(),
      [](const ColumnUse& column) { return column.name == "alarm"; });
}

}  // namespace telltale::host
