// How a quantity answers a load step: deviation and recovery after ISO 8528-5.
#pragma once

#include <cmath>
#include <concepts>
#include <cstddef>
#include <limits>
#include <span>

namespace telltale {

/// One reading after a step; t in seconds from any fixed origin.
template <std::floating_point R>
struct StepSample {
  R t;
  R x;
};

/// What a step did. NaN: the samples do not show it.
template <std::floating_point R>
struct StepResponse {
  R extreme = kNone;        // furthest from rated, on the side of the step
  R extreme_at = kNone;     // seconds
  R deviation_pct = kNone;  // of rated, signed: 100 (extreme - rated) / rated
  R settled = kNone;        // mean of the last part of the samples
  R leaves = kNone;         // first leaves the band about where it came from
  R reenters = kNone;       // last comes into the band about where it settles
  bool never_left = false;  // the band was never left: nothing to recover from

  /// Seconds from leaving the band to the last re-entry; 0 where the new band
  /// was reached before the old one was left (a small step, and droop).
  [[nodiscard]] R recovery() const {
    return never_left || reenters < leaves ? R(0) : reenters - leaves;
  }
  static constexpr R kNone = std::numeric_limits<R>::quiet_NaN();
};

/// ISO 8528-5: the transient deviation refers to the rated value; the recovery
/// time runs from leaving the steady-state band until the last re-entry into
/// the tolerance band about the new steady value, crossings by straight lines
/// between samples (the error falls with the square of the interval).
/// `before`: steady value before the step. `half_band`: half the width of the
/// tolerance band, in the unit of x. `downward`: load was put on. The last
/// `tail_s` seconds of the samples count as settled.
/// REQUIRES: times rise.
template <std::floating_point R>
StepResponse<R> step_response(std::span<const StepSample<R>> samples, R rated,
                              R before, R half_band, bool downward, R tail_s) {
  StepResponse<R> out;
  if (samples.size() < 2) return out;
  const R end = samples.back().t;
  R sum = R(0);
  R n = R(0);
  for (const StepSample<R>& s : samples) {
    const bool further = downward ? s.x < out.extreme : s.x > out.extreme;
    if (!(out.extreme == out.extreme) || further) {
      out.extreme = s.x;
      out.extreme_at = s.t;
    }
    if (s.t >= end - tail_s) {
      sum += s.x - before;
      n += R(1);
    }
  }
  out.deviation_pct = R(100) * (out.extreme - rated) / rated;
  out.settled = before + sum / n;

  const auto crossing = [](const StepSample<R>& a, const StepSample<R>& b,
                           R edge) {
    return a.t + (b.t - a.t) * (edge - a.x) / (b.x - a.x);
  };
  for (std::size_t i = 0; i < samples.size(); ++i) {
    const R off = samples[i].x - before;
    if (std::abs(off) <= half_band) continue;
    const R edge = before + (off > R(0) ? half_band : -half_band);
    out.leaves =
        i == 0 ? samples[0].t : crossing(samples[i - 1], samples[i], edge);
    break;
  }
  if (!(out.leaves == out.leaves)) {
    // Never far from where it came from; it may still settle elsewhere.
    out.leaves = samples[0].t;
    out.never_left = std::abs(out.settled - before) <= half_band;
  }
  for (std::size_t i = samples.size(); i-- > 0;) {
    const R off = samples[i].x - out.settled;
    if (std::abs(off) <= half_band) continue;
    if (i + 1 == samples.size()) return out;  // not back by the end
    const R edge = out.settled + (off > R(0) ? half_band : -half_band);
    out.reenters = crossing(samples[i], samples[i + 1], edge);
    return out;
  }
  out.reenters = out.leaves;
  return out;
}

}  // namespace telltale
