#include "season/slope_ranking.hpp"

#include <algorithm>
#include <cmath>
#include <random>

#include "telltale/forecast/trend_line.hpp"

namespace telltale::host::season {
namespace {

constexpr std::size_t kLeastSampled = 64;  // points; all slopes of fewer
constexpr std::size_t kSampledAPoint = 8;
constexpr double kReach = 3.5;  // standard errors of a rank in the sample
// Where between two neighbours of the sample a bracket ends: at no simple
// fraction, for slopes of rounded readings lie there, many at one place, and
// rounding would put some of them on the wrong side.
constexpr double kAside = 0.381966;
constexpr double kTied = 1e-9;  // of the sample's span; rounding is below it
constexpr double kLeastTight = 1e-290;

/// Sorts by key. How many pairs stood in the wrong order.
template <class Place>
std::size_t sort_counting(std::span<Place> places, std::span<Place> scratch) {
  const std::size_t n = places.size();
  if (n < 2) return 0;
  const std::size_t half = n / 2;
  const std::span<Place> left = places.first(half);
  const std::span<Place> right = places.subspan(half);
  std::size_t wrong =
      sort_counting(left, scratch) + sort_counting(right, scratch);
  std::copy(left.begin(), left.end(), scratch.begin());
  std::size_t l = 0;
  std::size_t r = 0;
  for (std::size_t at = 0; l < half; ++at) {
    if (r < n - half && right[r].key < scratch[l].key) {
      places[at] = right[r++];
      wrong += half - l;
    } else {
      places[at] = scratch[l++];
    }
  }
  return wrong;
}

}  // namespace

SlopeRanking::SlopeRanking(std::span<const double> t,
                           std::span<const double> y) {
  const std::size_t n = y.size();
  points_.reserve(n);
  for (std::size_t i = 0; i < n; ++i) points_.push_back({t[i], y[i]});
  pairs_ = n * (n - 1) / 2;
  // Points of one time have no slope: in the order of y they never change
  // places.
  for (std::size_t i = 0; i < n;) {
    std::size_t j = i + 1;
    while (j < n && t[j] == t[i]) ++j;
    std::sort(points_.begin() + static_cast<std::ptrdiff_t>(i),
              points_.begin() + static_cast<std::ptrdiff_t>(j),
              [](const Point& a, const Point& b) { return a.y < b.y; });
    pairs_ -= (j - i) * (j - i - 1) / 2;
    i = j;
  }
  middle_ = points_[n / 2];
  if (n >= kLeastSampled) take_sample();
}

void SlopeRanking::take_sample() {
  // The standard fixes its numbers: reports can be repeated.
  std::minstd_rand chance;
  const std::size_t n = points_.size();
  sample_.reserve(kSampledAPoint * n);
  for (std::size_t i = 0; i < kSampledAPoint * n; ++i) {
    const Point& a = points_[chance() % n];
    const Point& b = points_[chance() % n];
    if (a.t != b.t) sample_.push_back(slope(a, b));
  }
  std::sort(sample_.begin(), sample_.end());
}

double SlopeRanking::key(std::uint32_t point, double slope) const {
  const Point& p = points_[point];
  if (std::isinf(slope)) return slope < 0.0 ? p.t : -p.t;
  return (p.y - middle_.y) - slope * (p.t - middle_.t);
}

std::vector<SlopeRanking::Place> SlopeRanking::order_before_all() const {
  std::vector<Place> order(points_.size());
  for (std::uint32_t i = 0; i < order.size(); ++i) order[i] = {0.0, i};
  return order;
}

std::size_t SlopeRanking::order_at(double slope,
                                   std::vector<Place>& order) const {
  for (Place& place : order) place.key = key(place.point, slope);
  std::vector<Place> scratch(order.size() / 2 + 1);
  return sort_counting(std::span<Place>(order), std::span<Place>(scratch));
}

std::size_t SlopeRanking::below(double slope) const {
  std::vector<Place> order = order_before_all();
  return order_at(slope, order);
}

std::vector<double> SlopeRanking::slopes_up_to(double to,
                                               std::vector<Place>& from) const {
  std::vector<double> out;
  const double n = static_cast<double>(from.size());
  out.reserve(static_cast<std::size_t>(n * std::sqrt(n)));
  for (Place& place : from) place.key = key(place.point, to);
  for (std::size_t i = 1; i < from.size(); ++i) {
    const Place moving = from[i];
    std::size_t at = i;
    for (; at > 0 && from[at - 1].key > moving.key; --at) {
      out.push_back(slope(points_[from[at - 1].point], points_[moving.point]));
      from[at] = from[at - 1];
    }
    from[at] = moving;
  }
  return out;
}

SlopeRanking::Bracket SlopeRanking::bracket(std::size_t rank) const {
  Bracket out;
  if (sample_.empty()) return out;
  const double m = static_cast<double>(sample_.size());
  const double share =
      (static_cast<double>(rank) + 0.5) / static_cast<double>(pairs_);
  const double reach = kReach * std::sqrt(m * share * (1.0 - share)) + 2.0;
  const double from = share * m - reach;
  const double to = share * m + reach;
  const auto sampled = [this, m](double place) {
    return sample_[static_cast<std::size_t>(std::clamp(place, 0.0, m - 1.0))];
  };
  const double first = sampled(from);
  const double last = sampled(to);
  if (from >= 0.0 && to < m && first == last) {
    const double size =
        std::max(sample_.back() - sample_.front(), std::abs(first));
    const double tight = std::max(kTied * size, kLeastTight);
    return {first - tight, first + tight, first};
  }
  const auto lower = std::lower_bound(sample_.begin(), sample_.end(), first);
  if (from >= 0.0 && lower != sample_.begin()) {
    out.low = first - kAside * (first - *(lower - 1));
  }
  const auto upper = std::upper_bound(sample_.begin(), sample_.end(), last);
  if (to < m && upper != sample_.end()) {
    out.high = last + kAside * (*upper - last);
  }
  return out;
}

double SlopeRanking::ranked(std::size_t rank, std::size_t count) const {
  const Bracket between = bracket(rank);
  std::vector<Place> order = order_before_all();
  std::size_t lower =
      std::isfinite(between.low) ? order_at(between.low, order) : 0;
  std::vector<double> slopes;
  if (between.tied) {
    if (rank >= lower && rank + count <= below(between.high)) {
      return *between.tied;
    }
  } else if (rank >= lower) {
    slopes = slopes_up_to(between.high, order);
  }
  if (rank < lower || rank - lower + count > slopes.size()) {
    // The sample has led astray, as it seldom does.
    order = order_before_all();
    slopes = slopes_up_to(HUGE_VAL, order);
    lower = 0;
  }
  const auto last =
      slopes.begin() + static_cast<std::ptrdiff_t>(rank - lower + count - 1);
  std::nth_element(slopes.begin(), last, slopes.end());
  if (count == 1) return *last;
  return 0.5 * (*std::max_element(slopes.begin(), last) + *last);
}

double SlopeRanking::median() const {
  return pairs_ % 2 == 1 ? ranked(pairs_ / 2, 1) : ranked(pairs_ / 2 - 1, 2);
}

SlopeRanking::Limits SlopeRanking::limits(double half_width) const {
  const SlopeRanks ranks = slope_ranks(pairs_, half_width);
  return {ranked(ranks.low, 1), ranked(ranks.high, 1)};
}

}  // namespace telltale::host::season
