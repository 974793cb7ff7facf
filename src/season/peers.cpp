#include "season/peers.hpp"

#include <algorithm>
#include <boost/math/distributions/students_t.hpp>
#include <cmath>
#include <numeric>

#include "telltale/condition/median.hpp"

namespace telltale::host::season {
namespace {

constexpr double kMadEfficiency = 0.37;
constexpr double kMostFree = 1e4;  // as good as normal

double upper_tail(double z, double free) {
  return boost::math::cdf(
      boost::math::complement(boost::math::students_t(free), z));
}

}  // namespace

double mad_factor(std::size_t n) {
  // Croux and Rousseeuw 1992, table of finite-sample factors.
  constexpr double kSmall[] = {1.0,   1.0,   1.196, 1.495, 1.363,
                               1.206, 1.200, 1.140, 1.129, 1.107};
  if (n < 10) return kSmall[n];
  const double m = static_cast<double>(n);
  return m / (m - 0.8);
}

void compare(std::span<PeerValue> values, BadWay bad, double least_sigma) {
  const std::size_t n = values.size();
  if (n < kLeastPeers) return;
  std::vector<double> levels;
  for (const PeerValue& v : values) levels.push_back(v.level);
  const double middle = median_in_place(std::span<double>(levels));
  for (double& x : levels) x = std::abs(x - middle);
  const double sigma =
      1.4826 * mad_factor(n) * median_in_place(std::span<double>(levels));
  const double mad_free =
      std::max(1.0, kMadEfficiency * static_cast<double>(n));
  std::vector<std::size_t> order(n);
  std::iota(order.begin(), order.end(), std::size_t{0});
  for (const PeerValue& v : values) {
    PeerStanding& standing = v.figure->peers;
    standing.known = true;
    standing.peers = middle;
    standing.of = static_cast<int>(n);
    const double uncertain = sigma * sigma;
    const double variance = uncertain + v.se * v.se + least_sigma * least_sigma;
    const double scale = std::sqrt(variance);
    if (!(scale > 0.0)) continue;
    // Satterthwaite 1946: only the MAD's part of the variance is uncertain.
    const double share = uncertain / variance;
    const double free =
        std::min(kMostFree, mad_free / std::max(share * share, 1e-12));
    const double off = (v.level - middle) / scale;
    standing.z = bad == BadWay::down   ? -off
                 : bad == BadWay::both ? std::abs(off)
                                       : off;
    standing.p = bad == BadWay::both
                     ? std::min(1.0, 2.0 * upper_tail(standing.z, free))
                     : upper_tail(standing.z, free);
  }
  std::sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
    return values[a].figure->peers.z > values[b].figure->peers.z;
  });
  for (std::size_t rank = 0; rank < n; ++rank) {
    values[order[rank]].figure->peers.rank = static_cast<int>(rank) + 1;
  }
}

}  // namespace telltale::host::season
