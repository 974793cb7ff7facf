// ChangeScan: level changes and bends in a series that may have a trend.
#pragma once

#include <algorithm>
#include <cstddef>
#include <cstdint>
#include <span>
#include <vector>

namespace telltale::host::season {

/// One change. `index` is the first point after it.
struct Change {
  enum class Kind : std::uint8_t {
    step,  // a new level from here on
    bend   // a new slope from here on
  } kind = Kind::step;
  std::size_t index = 0;
  double size = 0.0;  // step: new level less old; bend: new slope less old
  double size_se = 0.0;
  double p = 1.0;  // of a scan over all places and both kinds

  /// What a change of size one adds to point i of a series over t.
  [[nodiscard]] double column(std::span<const double> t, std::size_t i) const {
    return kind == Kind::step ? (i >= index ? 1.0 : 0.0)
                              : std::max(0.0, t[i] - t[index]);
  }
};

struct ChangeRules {
  /// A series without change gives one by chance with this probability.
  double false_alarm = 0.01;
  std::size_t least_segment = 5;  // points on either side of a change
  std::size_t most_changes = 5;
};

/// Fits a straight line over `t` and scans for the place and kind of change
/// that takes most off the residuals: at each place the F statistic of one more
/// column, a step or a bend. The probability of the largest F over the scan
/// comes from the F distribution and an effective number of independent
/// places, found by simulation (see effective_places). Serial correlation of
/// the residuals (lag one) divides F by (1 + r) / (1 - r). Where a change is
/// found it joins the line and the scan is repeated. Where no single change is
/// found, pairs of places are looked at for a spell: a fault that was mended
/// hides each of its ends from a scan for one (Olshen and others 2004). Both
/// scans share the rate of false alarms. Points far off are pulled in to 4
/// robust sigmas first, so that single odd runs make no change.
/// `t` rises (equal times allowed). Changes by index.
/// REQUIRES: all finite.
std::vector<Change> scan_changes(std::span<const double> t,
                                 std::span<const double> y,
                                 const ChangeRules& rules = {});

/// The largest F over all places and kinds of one scan: what the simulation
/// behind effective_places looks at. p is of that F.
struct ScanPeak {
  double f = 0.0;
  double p = 1.0;
  Change change;
};
ScanPeak scan_peak(std::span<const double> t, std::span<const double> y,
                   const ChangeRules& rules = {});

/// How many independent F tests a scan over n points is worth.
double effective_places(std::size_t n);

/// The same of a scan for spells.
struct SpellPeak {
  double f = 0.0;
  double p = 1.0;
  Change begins;
  Change ends;
};
SpellPeak spell_peak(std::span<const double> t, std::span<const double> y,
                     const ChangeRules& rules = {});
double effective_spells(std::size_t n);

}  // namespace telltale::host::season
