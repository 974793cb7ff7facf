#include "summary/picture_scatter.hpp"

#include <cmath>
#include <utility>

namespace telltale::host {
namespace {

std::uint32_t slot_of(double value, double step) {
  return static_cast<std::uint32_t>(
      static_cast<std::int64_t>(std::floor(value / step)));
}

}  // namespace

void PictureScatter::Cell::merge(const Cell& other) {
  x.add(other.x);
  y.add(other.y);
  readings += other.readings;
  ms_sum += other.ms_sum;
}

PictureScatter::Key PictureScatter::key_of(double x, double y, double x_step,
                                           double y_step) {
  return Key{slot_of(x, x_step)} << 32U | slot_of(y, y_step);
}

PictureScatter::Cells PictureScatter::merged(const Cells& cells, double x_step,
                                             double y_step) {
  Cells coarse;
  for (const auto& [key, cell] : cells) {
    coarse[key_of(cell.x.low, cell.y.low, x_step, y_step)].merge(cell);
  }
  return coarse;
}

void PictureScatter::add(TimeMs at, double x, double y) {
  if (!is_set(first_)) first_ = at;
  const Key key = key_of(x, y, x_step_, y_step_);
  if (last_ == nullptr || key != last_key_) {
    last_ = &cells_[key];
    last_key_ = key;
  }
  last_->x.add(static_cast<float>(x));
  last_->y.add(static_cast<float>(y));
  ++last_->readings;
  last_->ms_sum += static_cast<double>((at - first_).ms);
  while (cells_.size() > kMostCells) coarsen();
}

void PictureScatter::coarsen() {
  x_step_ *= 2.0;
  y_step_ *= 2.0;
  cells_ = merged(cells_, x_step_, y_step_);
  last_ = nullptr;
}

void PictureScatter::clear() {
  cells_.clear();
  last_ = nullptr;
}

std::vector<PictureScatter::Cell> PictureScatter::cells(
    std::size_t most) const {
  Cells shown = cells_;
  for (double coarser = 2.0; shown.size() > most; coarser *= 2.0) {
    shown = merged(shown, x_step_ * coarser, y_step_ * coarser);
  }
  std::vector<Cell> out;
  out.reserve(shown.size());
  for (const auto& [key, cell] : shown) out.push_back(cell);
  return out;
}

}  // namespace telltale::host
