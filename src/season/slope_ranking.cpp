#include "season/slope_ranking.hpp"

#include <algorithm>
#include <cmath>

#include "telltale/forecast/trend_line.hpp"

namespace telltale::host::season {
namespace {

constexpr std::size_t kSample = 512;

}  // namespace

SlopeRanking::SlopeRanking(std::span<const double> t,
                           std::span<const double> y) {
  const std::size_t n = y.size();
  slopes_.reserve(n * (n - 1) / 2);
  for (std::size_t i = 0; i < n; ++i) {
    for (std::size_t j = i + 1; j < n; ++j) {
      if (t[j] != t[i]) slopes_.push_back((y[j] - y[i]) / (t[j] - t[i]));
    }
  }
  if (slopes_.size() < 8 * kSample) return;
  // A stride that shares no factor with the length of the rows hits every part
  // of the triangle.
  std::size_t at = 0;
  const std::size_t stride = slopes_.size() / kSample | 1U;
  for (; at < slopes_.size(); at += stride) sample_.push_back(slopes_[at]);
  std::sort(sample_.begin(), sample_.end());
}

double SlopeRanking::ranked(std::size_t rank) const {
  if (!sample_.empty()) {
    // A band of five standard errors about the rank's place in the sample.
    const double share =
        (static_cast<double>(rank) + 0.5) / static_cast<double>(slopes_.size());
    const double m = static_cast<double>(sample_.size());
    const double reach = 5.0 * std::sqrt(m * share * (1.0 - share)) + 2.0;
    const double from = share * m - reach;
    const double to = share * m + reach;
    const double low =
        from < 0.0 ? -HUGE_VAL : sample_[static_cast<std::size_t>(from)];
    const double high =
        to >= m ? HUGE_VAL : sample_[static_cast<std::size_t>(to)];
    std::size_t below = 0;
    std::vector<double> inside;
    inside.reserve(slopes_.size() / 4);
    for (const double s : slopes_) {
      below += s < low ? 1U : 0U;
      if (s >= low && s <= high) inside.push_back(s);
    }
    if (rank >= below && rank - below < inside.size()) {
      const auto nth =
          inside.begin() + static_cast<std::ptrdiff_t>(rank - below);
      std::nth_element(inside.begin(), nth, inside.end());
      return *nth;
    }
  }
  std::vector<double> all = slopes_;
  const auto nth = all.begin() + static_cast<std::ptrdiff_t>(rank);
  std::nth_element(all.begin(), nth, all.end());
  return *nth;
}

double SlopeRanking::median() const {
  const std::size_t n = slopes_.size();
  const double upper = ranked(n / 2);
  return n % 2 == 1 ? upper : 0.5 * (ranked(n / 2 - 1) + upper);
}

SlopeRanking::Limits SlopeRanking::limits(double half_width) const {
  const SlopeRanks ranks = slope_ranks(slopes_.size(), half_width);
  return {ranked(ranks.low), ranked(ranks.high)};
}

}  // namespace telltale::host::season
