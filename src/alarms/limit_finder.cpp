// The level that parts readings before a change from those at it.
#include "alarms/limit_finder.hpp"

#include <algorithm>
#include <cmath>

namespace telltale::host {
namespace {

// The level with the most readings on their own side of it: `low` below,
// `high` at or above. Of equals the middle one. `agree`: their share.
double parting(std::vector<double> low, std::vector<double> high,
               double& agree) {
  std::sort(low.begin(), low.end());
  std::sort(high.begin(), high.end());
  std::vector<double> levels = high;
  levels.insert(levels.end(), low.begin(), low.end());
  std::sort(levels.begin(), levels.end());
  std::ptrdiff_t best = -1;
  double first = 0.0;
  double last = 0.0;
  for (const double level : levels) {
    const auto below = std::lower_bound(low.begin(), low.end(), level);
    const auto above = std::lower_bound(high.begin(), high.end(), level);
    const std::ptrdiff_t good = (below - low.begin()) + (high.end() - above);
    if (good > best) {
      best = good;
      first = level;
    }
    if (good == best) last = level;
  }
  agree =
      static_cast<double>(best) / static_cast<double>(low.size() + high.size());
  // A level between the last good reading and the first bad one.
  const auto under = std::lower_bound(low.begin(), low.end(), first);
  if (under != low.begin() && first == last) {
    return (*(under - 1) + first) / 2.0;
  }
  return (first + last) / 2.0;
}

}  // namespace

void LimitFinder::push(double reading, bool stands) {
  if (std::isnan(reading)) return;
  const double value = above_ ? reading : -reading;
  if (any_ && stands != stood_) {
    std::vector<Change>& list = stands ? came_ : went_;
    if (list.size() < kMost) list.push_back({last_, value});
  }
  last_ = value;
  stood_ = stands;
  any_ = true;
}

std::optional<AlarmLimit> LimitFinder::limit() const {
  if (came_.size() < 3 || went_.size() < 2) return std::nullopt;
  const auto part = [](const std::vector<Change>& changes, bool came,
                       double& agree) {
    std::vector<double> low;
    std::vector<double> high;
    for (const Change& change : changes) {
      (came ? low : high).push_back(change.before);
      (came ? high : low).push_back(change.at);
    }
    return parting(std::move(low), std::move(high), agree);
  };
  double came_agree = 0.0;
  double went_agree = 0.0;
  const double limit = part(came_, true, came_agree);
  double clears = part(went_, false, went_agree);
  // Readings are of the moment of logging: some lie on the wrong side.
  constexpr double kAgree = 0.8;
  if (came_agree < kAgree || went_agree < kAgree) return std::nullopt;
  clears = std::min(clears, limit);
  AlarmLimit found;
  found.channel = channel_;
  found.above = above_;
  found.limit = above_ ? limit : -limit;
  found.clears = above_ ? clears : -clears;
  return found;
}

}  // namespace telltale::host
