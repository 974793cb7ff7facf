// Peers: sets of one kind beside each other at the same condition.
#pragma once

#include <span>
#include <vector>

#include "season/season_report.hpp"

namespace telltale::host::season {

/// Fewest sets with the figure for a comparison.
inline constexpr std::size_t kLeastPeers = 5;

/// One set's figure for the comparison.
struct PeerValue {
  double level = kNone;
  double se = 0.0;
  FigureFollow* figure = nullptr;  // gets its standing
};

/// Places each value by its distance from the median of all, in robust sigmas:
/// MAD with the small-sample factor of Croux and Rousseeuw (1992), together
/// with the value's own error and `least_sigma`, what healthy sets of a kind
/// differ by in any case. p is one-sided on the bad side (two-sided where both
/// are bad), by Student's distribution: a MAD of n values is worth 0.37 n
/// degrees of freedom (its efficiency is 37 %), more where the other parts of
/// the variance weigh more.
void compare(std::span<PeerValue> values, BadWay bad, double least_sigma);

/// The factor that makes the MAD of n normal values unbiased, beside 1.4826.
double mad_factor(std::size_t n);

}  // namespace telltale::host::season
