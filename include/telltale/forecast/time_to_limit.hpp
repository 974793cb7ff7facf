// Time to limit: when a fitted line will reach a limit, as an interval.
#pragma once

#include <algorithm>
#include <cmath>
#include <concepts>
#include <limits>

namespace telltale {

/// A fitted straight line and how sure it is: level and slope are uncorrelated
/// at `middle`, the middle of the times it was fitted over.
template <std::floating_point R>
struct LineState {
  R middle = R(0);
  R level = R(0);  // at `middle`
  R level_se = R(0);
  R slope = R(0);  // per unit of time
  R slope_se = R(0);

  [[nodiscard]] R at(R t) const { return level + slope * (t - middle); }
  /// Standard error of the line at a time.
  [[nodiscard]] R se_at(R t) const {
    const R off = t - middle;
    return std::sqrt(level_se * level_se + off * off * slope_se * slope_se);
  }
};

/// How long from `now` until the line is at a limit. ISO 13381-1 asks for a
/// time together with its confidence: best is never to be told without low and
/// high. Infinite: not to be had from this line.
template <std::floating_point R>
struct TimeToLimit {
  R best = std::numeric_limits<R>::infinity();
  R low = std::numeric_limits<R>::infinity();
  R high = std::numeric_limits<R>::infinity();
};

/// All times at which the limit lies inside the line's confidence band
/// (Fieller's theorem), as far as they lie ahead of `now`. `quantile` is that
/// of the two-sided confidence: 1.96 for 95 % of a well-known scatter. Where
/// the slope may be zero at that confidence, `high` is infinite.
template <std::floating_point R>
TimeToLimit<R> time_to_limit(const LineState<R>& line, R limit, R now,
                             R quantile) {
  constexpr R kNever = std::numeric_limits<R>::infinity();
  TimeToLimit<R> out;
  const R from = now - line.middle;
  const R rise = limit - line.level;
  if (line.slope != R(0)) {
    const R reached = rise / line.slope;
    if (reached >= from) out.best = reached - from;
  }
  // (b2 - q2 sb2) u2 - 2 b d u + (d2 - q2 sl2) <= 0, u from the middle.
  const R qb = quantile * line.slope_se;
  const R ql = quantile * line.level_se;
  const R a = line.slope * line.slope - qb * qb;
  const R half_b = -line.slope * rise;
  const R c = rise * rise - ql * ql;
  const R root = half_b * half_b - a * c;
  const auto ahead = [from](R u) { return std::max(u - from, R(0)); };
  if (a > R(0)) {
    if (root < R(0)) return out;
    const R low = (-half_b - std::sqrt(root)) / a;
    const R high = (-half_b + std::sqrt(root)) / a;
    if (high < from) {
      // The band passed the limit in the past and leads away from it.
      out.best = kNever;
      return out;
    }
    out.low = ahead(low);
    out.high = ahead(high);
    return out;
  }
  // The slope may be zero: the band opens like a funnel and never leaves.
  if (root <= R(0) || a == R(0)) {
    out.low = a == R(0) && half_b != R(0) ? ahead(-c / (R(2) * half_b)) : R(0);
    return out;
  }
  const R one = (-half_b - std::sqrt(root)) / a;
  const R two = (-half_b + std::sqrt(root)) / a;
  const R left = std::min(one, two);
  const R right = std::max(one, two);
  out.low = from <= left ? R(0) : ahead(right);
  return out;
}

}  // namespace telltale
