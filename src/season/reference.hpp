// Reference condition: figures of different runs made comparable.
#pragma once

#include <array>
#include <cstdint>
#include <map>
#include <span>
#include <utility>
#include <vector>

#include "season/change_scan.hpp"
#include "season/figure_facts.hpp"
#include "season/history.hpp"

namespace telltale::host::season {

/// Values of the causes that figures are brought to; NaN: no run tells.
struct Condition0 {
  double own = kNone;
  double water = kNone;
  double air = kNone;
  double start = kNone;
  double load = kNone;
};

/// The reference of a group of peers: the middle of what their runs met,
/// rounded to multiples of 10 % load and 5 degC so that it stays put from
/// report to report. One for each figure and each basis.
using ReferenceTable = std::map<std::pair<FigureKind, Basis>, Condition0>;
ReferenceTable references_of(std::span<const UnitHistory* const> peers);

/// A set's figure, run by run, at the reference condition.
struct Adjusted {
  Basis basis = Basis::none;
  int other_basis = 0;    // runs left out, read from something else
  bool corrected = true;  // false: a cause that matters was not logged
  Condition0 reference;
  std::vector<std::uint32_t> run;  // index into the history's runs
  std::vector<double> hours;
  std::vector<double> raw;
  std::vector<double> value;
  /// How far each run's causes lay from the reference, one row a run; and what
  /// is not known of their effects: covariance.
  std::size_t causes = 0;
  std::vector<double> off;
  std::vector<double> covariance;

  /// Variance that the correction brings to the slope, and to the level, of a
  /// line over the points from `from` on; per hour squared.
  struct Doubt {
    double slope = 0.0;
    double level = 0.0;
  };
  [[nodiscard]] Doubt doubt(std::size_t from) const;
};

/// Effects are estimated by a robust regression over the set's own runs, the
/// trend and the changes known so far taken into it, so that wear is not
/// mistaken for sea temperature; with what the minutes within each run say of
/// the effect of the figure's own condition, and with what the trade knows
/// (figure_facts) where runs say little.
Adjusted adjust(const UnitHistory& history, FigureKind kind,
                const ReferenceTable& references, const Profile& profile,
                std::span<const Change> changes = {});

/// What the runs' own minutes say of the effect of the own condition; sd
/// infinite where they say nothing.
Prior pooled_slope(std::span<const PastFigure> figures);

}  // namespace telltale::host::season
