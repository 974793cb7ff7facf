#include "summary/weighted_quantiles.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

namespace telltale::host {
namespace {

constexpr std::size_t kCells = 32768;
/// Cells the span from p01 to p99 gets when the grid starts: the grid covers
/// it twice, and may double its range, or the span shrink, by three times
/// before a cell is more than 1/2000 of it.
constexpr double kCellsPerSpan = 16384.0;
/// Share of the weight that may lie beyond one end of the grid: beyond p01 or
/// p99 in any case.
constexpr double kBeyond = 0.009;

}  // namespace

void WeightedQuantiles::add_to_grid(double x, double weight) {
  if (width_ == 0.0) start_grid();
  total_ += weight;
  put_in_cell(x, weight);
}

std::vector<WeightedValue> WeightedQuantiles::values() const {
  if (width_ == 0.0) return table_.sorted();
  std::vector<WeightedValue> out;
  if (below_.weight > 0.0) out.push_back(below_);
  for (std::size_t i = 0; i < cells_.size(); ++i) {
    if (cells_[i] <= 0.0) continue;
    out.push_back({low_ + (static_cast<double>(i) + 0.5) * width_, cells_[i]});
  }
  if (above_.weight > 0.0) out.push_back(above_);
  return out;
}

void WeightedQuantiles::start_grid() {
  const std::vector<WeightedValue> exact = values();
  const double p01 = quantile_of(exact, 0.01);
  const double p99 = quantile_of(exact, 0.99);
  const double span = p99 > p01 ? p99 - p01 : std::max(1e-9, std::abs(p99));
  width_ = span / kCellsPerSpan;
  low_ = 0.5 * (p01 + p99) - 0.5 * width_ * static_cast<double>(kCells);
  cells_.assign(kCells, 0.0);
  table_.clear();
  for (const WeightedValue& value : exact) add_to_grid(value.x, value.weight);
}

void WeightedQuantiles::put_in_cell(double x, double weight) {
  const double place = (x - low_) / width_;
  if (place >= 0.0 && place < static_cast<double>(kCells)) {
    cells_[static_cast<std::size_t>(place)] += weight;
    return;
  }
  // A few outliers may stay outside: they are beyond p01 and p99 anyway.
  WeightedValue& side = place < 0.0 ? below_ : above_;
  side.x = side.weight > 0.0
               ? (place < 0.0 ? std::max(side.x, x) : std::min(side.x, x))
               : x;
  side.weight += weight;
  if (side.weight > kBeyond * total_) widen(x);
}

void WeightedQuantiles::widen(double x) {
  // Twice the range, cells twice as wide, as often as it takes to hold x.
  int guard = 0;
  while ((x < low_ || x >= low_ + width_ * static_cast<double>(kCells)) &&
         ++guard < 64) {
    std::vector<double> wider(kCells, 0.0);
    for (std::size_t i = 0; i < kCells; ++i) {
      wider[kCells / 4 + i / 2] += cells_[i];
    }
    low_ -= width_ * static_cast<double>(kCells) / 2.0;
    width_ *= 2.0;
    cells_ = std::move(wider);
  }
  for (WeightedValue* side : {&below_, &above_}) {
    const double place = (side->x - low_) / width_;
    if (side->weight > 0.0 && place >= 0.0 &&
        place < static_cast<double>(kCells)) {
      cells_[static_cast<std::size_t>(place)] += side->weight;
      *side = WeightedValue{};
    }
  }
}

double WeightedQuantiles::quantile_of(std::span<const WeightedValue> values,
                                      double p) {
  if (values.empty()) return std::numeric_limits<double>::quiet_NaN();
  double all = 0.0;
  for (const WeightedValue& slot : values) all += slot.weight;
  // Rounding in the sums must not push a boundary to the next value.
  const double wanted = p * all * (1.0 - 1e-12);
  double sum = 0.0;
  for (const WeightedValue& slot : values) {
    sum += slot.weight;
    if (sum >= wanted) return slot.x;
  }
  return values.back().x;
}

}  // namespace telltale::host
