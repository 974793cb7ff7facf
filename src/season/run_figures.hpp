// From a run's minutes to the tracked figures at the run's own condition.
#pragma once

#include <span>
#include <vector>

#include "season/minute_series.hpp"
#include "season/run_digest.hpp"
#include "telltale/profile.hpp"

namespace telltale::host::season {

/// What the minutes do not tell.
struct FigureContext {
  Rating rating;
  bool load_rated = false;     // load is of the rating
  bool leg_volts = false;      // volts are of the legs
  bool begins_in_log = false;  // warm already when the log begins
  bool wet_exhaust = false;
};

/// The figures that a run's steady minutes give; those it can't give are left
/// out. Every one is a robust line over the condition it depends on, read at
/// the condition's mean, so that little hangs on the line.
std::vector<RunFigure> figures_of(std::span<const Minute> minutes,
                                  const FigureContext& context);

/// The temperature at which an oil has that log10 viscosity: the inverse of
/// log_viscosity (condition/oil_viscosity.hpp).
double celsius_of_log_viscosity(double log_v);

}  // namespace telltale::host::season
