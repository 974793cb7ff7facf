#include "summary/weighted_quantiles.hpp"

#include <algorithm>
#include <bit>
#include <cmath>
#include <limits>

namespace telltale::host {
namespace {

constexpr std::size_t kTable = 4 * WeightedQuantiles::kExact;
constexpr std::size_t kCells = 32768;
/// Cells the span from p01 to p99 gets when the grid starts: the grid covers
/// it twice, and may double its range, or the span shrink, by three times
/// before a cell is more than 1/2000 of it.
constexpr double kCellsPerSpan = 16384.0;
/// Share of the weight that may lie beyond one end of the grid: beyond p01 or
/// p99 in any case.
constexpr double kBeyond = 0.009;

std::size_t slot_of(double x) {
  // Fibonacci hashing of the bits; + 0.0 makes -0 and 0 one value.
  const auto bits = std::bit_cast<std::uint64_t>(x + 0.0);
  return static_cast<std::size_t>((bits * 0x9E3779B97F4A7C15ULL) >> 50) &
         (kTable - 1);
}

}  // namespace

void WeightedQuantiles::add(double x, double weight) {
  total_ += weight;
  if (width_ > 0.0) {
    add_to_grid(x, weight);
  } else if (!add_exact(x, weight)) {
    start_grid();
    add_to_grid(x, weight);
  }
}

bool WeightedQuantiles::add_exact(double x, double weight) {
  if (table_.empty()) table_.resize(kTable);
  // Readings often stand still: try where the last one went first.
  if (table_[last_].weight > 0.0 && table_[last_].x == x) {
    table_[last_].weight += weight;
    return true;
  }
  std::size_t i = slot_of(x);
  while (table_[i].weight > 0.0 && table_[i].x != x) i = (i + 1) & (kTable - 1);
  if (table_[i].weight == 0.0) {
    if (used_ == kExact) return false;
    ++used_;
    table_[i].x = x;
  }
  table_[i].weight += weight;
  last_ = i;
  return true;
}

std::vector<WeightedQuantiles::Slot> WeightedQuantiles::sorted() const {
  std::vector<Slot> out;
  if (width_ > 0.0) {
    if (below_.weight > 0.0) out.push_back(below_);
    for (std::size_t i = 0; i < cells_.size(); ++i) {
      if (cells_[i] <= 0.0) continue;
      out.push_back(
          {low_ + (static_cast<double>(i) + 0.5) * width_, cells_[i]});
    }
    if (above_.weight > 0.0) out.push_back(above_);
    return out;
  }
  for (const Slot& slot : table_) {
    if (slot.weight > 0.0) out.push_back(slot);
  }
  std::sort(out.begin(), out.end(),
            [](const Slot& a, const Slot& b) { return a.x < b.x; });
  return out;
}

void WeightedQuantiles::start_grid() {
  const std::vector<Slot> exact = sorted();
  const double p01 = quantile(0.01);
  const double p99 = quantile(0.99);
  const double span = p99 > p01 ? p99 - p01 : std::max(1e-9, std::abs(p99));
  width_ = span / kCellsPerSpan;
  low_ = 0.5 * (p01 + p99) - 0.5 * width_ * static_cast<double>(kCells);
  cells_.assign(kCells, 0.0);
  table_ = {};
  for (const Slot& slot : exact) add_to_grid(slot.x, slot.weight);
}

void WeightedQuantiles::add_to_grid(double x, double weight) {
  const double place = (x - low_) / width_;
  if (place >= 0.0 && place < static_cast<double>(kCells)) {
    cells_[static_cast<std::size_t>(place)] += weight;
    return;
  }
  // A few outliers may stay outside: they are beyond p01 and p99 anyway.
  Slot& side = place < 0.0 ? below_ : above_;
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
  for (Slot* side : {&below_, &above_}) {
    const double place = (side->x - low_) / width_;
    if (side->weight > 0.0 && place >= 0.0 &&
        place < static_cast<double>(kCells)) {
      cells_[static_cast<std::size_t>(place)] += side->weight;
      *side = Slot{};
    }
  }
}

double WeightedQuantiles::quantile(double p) const {
  const std::vector<Slot> values = sorted();
  if (values.empty()) return std::numeric_limits<double>::quiet_NaN();
  double all = 0.0;
  for (const Slot& slot : values) all += slot.weight;
  // Rounding in the sums must not push a boundary to the next value.
  const double wanted = p * all * (1.0 - 1e-12);
  double sum = 0.0;
  for (const Slot& slot : values) {
    sum += slot.weight;
    if (sum >= wanted) return slot.x;
  }
  return values.back().x;
}

}  // namespace telltale::host
