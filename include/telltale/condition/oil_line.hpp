// OilLineFit<R>: the oil pressure that temperature explains, learnt from the
// first third of a run.
#pragma once

#include <algorithm>
#include <cmath>
#include <concepts>
#include <cstddef>
#include <cstdint>
#include <limits>

#include "telltale/base/box_time.hpp"
#include "telltale/base/out_of_line.hpp"
#include "telltale/condition/oil_viscosity.hpp"
#include "telltale/condition/thinned_series.hpp"

namespace telltale {

/// Keeps temperature and pressure of the whole run in at most 64 cells and
/// answers what pressure belongs to a temperature, going by the first third of
/// the cells only. The answer is a local straight line over the logarithm of
/// viscosity (ASTM D341), weighted by nearness in temperature: no global form
/// is forced on the relief valve's plateau, and no single odd cell decides.
template <std::floating_point R>
class OilLineFit {
 public:
  static constexpr R kBeyond = R(5);  // K outside the fitted range

  void clear() {
    cells_.clear();
    learnt_ = 0;
  }
  /// Means that stand for `length`. `learn`: the readings are not under
  /// suspicion, so the third that is gone by may grow.
  void add(SpanOf<R> length, R celsius, R kpa, bool learn) {
    const std::size_t before = cells_.size();
    if (!cells_.add(length, {celsius, kpa})) return;
    if (cells_.size() <= before) {
      learnt_ = static_cast<std::uint16_t>(learnt_ / 2);
    }
    const auto third = static_cast<std::uint16_t>(cells_.size() / 3);
    if (learn) learnt_ = std::max(learnt_, third);
  }

  /// kPa expected at that temperature; NaN where there is no basis for one.
  [[nodiscard]] R expected(R celsius) const {
    if (learnt_ < kLeastCells) return kNone;
    const auto [low, high] = range();
    if (celsius < low - kBeyond || celsius > high + kBeyond) return kNone;
    const R near = std::clamp(celsius, low, high);
    for (R reach : {R(6), R(12)}) {
      const R found = local_line(near, celsius, reach);
      if (found == found) return found;
    }
    return kNone;
  }
  /// Temperatures learnt from. REQUIRES: expected() gave a number.
  [[nodiscard]] R lowest() const { return range().low; }
  [[nodiscard]] R highest() const { return range().high; }
  [[nodiscard]] std::size_t learnt() const { return learnt_; }

 private:
  static constexpr std::size_t kCells = 64;
  static constexpr std::size_t kLeastCells = 6;
  static constexpr R kNone = std::numeric_limits<R>::quiet_NaN();

  struct Range {
    R low;
    R high;
  };
  /// Of temperatures learnt from.
  TELLTALE_OUT_OF_LINE Range range() const {
    Range found{cells_[0][0], cells_[0][0]};
    for (std::size_t i = 1; i < learnt_; ++i) {
      const R at = cells_[i][0];
      found.low = std::min(found.low, at);
      found.high = std::max(found.high, at);
    }
    return found;
  }
  /// Tricube weights about `near`, the line read at `celsius`.
  [[nodiscard]] R local_line(R near, R celsius, R reach) const {
    R w = R(0), x = R(0), y = R(0), xx = R(0), xy = R(0);
    int n = 0;
    const R x0 = log_viscosity(near);
    const R y0 = cells_[0][1];
    for (std::size_t i = 0; i < learnt_; ++i) {
      const auto [at, kpa] = cells_[i];
      const R off = std::abs(at - near) / reach;
      if (off >= R(1)) continue;
      const R inner = R(1) - off * off * off;
      const R weight = inner * inner * inner;
      const R dx = log_viscosity(at) - x0;
      const R dy = kpa - y0;
      w += weight;
      x += weight * dx;
      y += weight * dy;
      xx += weight * dx * dx;
      xy += weight * dx * dy;
      ++n;
    }
    if (n < 3) return kNone;
    const R mean_x = x / w;
    const R mean_y = y / w;
    const R spread = xx / w - mean_x * mean_x;
    const R at_near = mean_y + y0;
    // Pressure rises with viscosity, at most in proportion to its logarithm's
    // share of the pressure itself; a cloud of points tells no slope and gets
    // a typical one.
    const R most = R(1.2) * at_near;
    R slope = R(0.8) * at_near;
    if (spread > kTellingSpread) {
      slope = std::clamp((xy / w - mean_x * mean_y) / spread, R(0), most);
    }
    return at_near + slope * (log_viscosity(celsius) - x0 - mean_x);
  }

  /// Variance of log10 viscosity that some 2 K of spread make near 85 degC.
  static constexpr R kTellingSpread = R(0.0004);

  struct Scales {  // degC, kPa
    static constexpr Fixed16::Scale kScales[] = {{-50.0F, 0.005F},
                                                 {0.0F, 0.02F}};
  };

  ThinnedSeries<R, 2, kCells, seconds(20), KeptByRoom<R, 2, Scales>> cells_;
  std::uint16_t learnt_ = 0;
};

}  // namespace telltale
