// Limits given in percent of a nominal figure, turned into the figure's unit.
#pragma once

#include <concepts>

#include "telltale/detect/latch.hpp"
#include "telltale/detect/limits.hpp"

namespace telltale {

/// A rule in the unit of `nominal` from limits in percent off nominal:
/// +5 becomes nominal * 1.05. `widen` percent are added to every limit.
/// A NaN nominal makes limits that nothing passes.
template <std::floating_point R>
LatchRule<R> relative_rule(const Limits& percent, float nominal, R deadband,
                           float widen = 0.0F) {
  LatchRule<R> rule = LatchRule<R>::of(percent, deadband);
  for (Level* level : {&rule.low, &rule.high}) {
    level->limit = nominal * (1.0F + (level->limit + widen) / 100.0F);
  }
  return rule;
}

/// Usual full-load slip of a small asynchronous generator, percent: up to 6
/// (machine textbooks).
inline constexpr float kAsynchronousSlipPct = 6.0F;

}  // namespace telltale
