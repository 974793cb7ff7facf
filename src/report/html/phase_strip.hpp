// PhaseStrip: the phases, load steps and findings of a run on one time axis.
#pragma once

#include "report/html/document.hpp"
#include "report/html/time_chart.hpp"

namespace telltale::host {

/// What is marked on every time axis of a run.
struct RunMarks {
  std::vector<Mark> phases;
  std::vector<Mark> on_load;
  std::vector<Mark> findings;
  std::vector<TimeMs> steps;      // the largest
  std::vector<TimeMs> all_steps;  // in order of time
  DurationMs ahead{};
  TimeMs from = kNoTime;
  TimeMs to = kNoTime;

  /// REQUIRES: the run has a picture with columns.
  RunMarks(const LogPart& log, const RunReport& run);
};

void write_phase_strip(const RunMarks& marks, const std::string& id,
                       const ValueText& text, Document& doc);

}  // namespace telltale::host
