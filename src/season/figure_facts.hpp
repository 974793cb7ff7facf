// What the trade knows of a figure on one set: limits, how much of a change is
// worth a person's time, and what moves it besides wear.
#pragma once

#include <vector>

#include "season/history.hpp"
#include "season/robust_fit.hpp"
#include "telltale/profile.hpp"

namespace telltale::host::season {

/// The profile that the core's limits go by, from what the store keeps.
Profile profile_of(const UnitDigest& unit);

/// Limits on either side; NaN: none on that side.
struct FigureLimits {
  double low = kNone;
  double high = kNone;
};
/// The attention limits (for light load: note) of the check that asks the same
/// of a single run, profile included.
FigureLimits limits_of(FigureKind kind, Basis basis, const Profile& profile);

/// The smallest lasting change of the figure that is worth a look: common
/// practice, well below what the limits allow. `level`: the figure now.
double worth_of(FigureKind kind, Basis basis, const Profile& profile,
                double level);

/// What a figure is corrected for.
enum class Cause : std::uint8_t {
  own,    // its own condition: load or temperature
  water,  // raw water, degC
  air,    // ambient, degC
  start,  // engine before the start, degC
  load,   // mean load of the run, % of rating
};
struct Influence {
  Cause cause;
  Prior prior;  // per unit of the cause; own condition of oil: per log10 v
};
/// Ranges are common knowledge of the trade, wide enough that a few dozen runs
/// overrule them. `level`: the figure's median.
std::vector<Influence> influences_on(FigureKind kind, Basis basis,
                                     const Profile& profile, double level);

}  // namespace telltale::host::season
