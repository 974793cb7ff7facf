// RunRecord: what was written down of a run scan by scan.
#pragma once

#include <optional>
#include <vector>

#include "report/health_report.hpp"

namespace telltale::host {

/// The part of a RunReport that no finding has a hand in.
struct RunRecord {
  std::vector<PhaseSpan> phases;
  FiguresByChannel channels;
  std::vector<LoadStep> load_steps;
  std::optional<Acceptance> acceptance;
};

}  // namespace telltale::host
