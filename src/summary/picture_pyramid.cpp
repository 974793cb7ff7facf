#include "summary/picture_pyramid.hpp"

#include <utility>

namespace telltale::host {

void PicturePyramid::Level::push(const PictureColumn& column) {
  if (ring.size() < kReach) {
    ring.push_back(column);
    return;
  }
  ring[oldest] = column;
  oldest = (oldest + 1) % kReach;
}

void PicturePyramid::add_level() {
  Level fresh;
  if (!levels_.empty()) {
    // What the level below has seen so far, so that both begin together.
    const Level& below = levels_.back();
    for (std::size_t k = 0; k < kReach; k += 2) {
      PictureColumn pair = below.at(k);
      pair.merge(below.at(k + 1));
      fresh.push(pair);
    }
  }
  levels_.push_back(std::move(fresh));
}

void PicturePyramid::add(const PictureColumn& scan) {
  if (levels_.empty()) add_level();
  PictureColumn column = scan;
  for (std::size_t i = 0; i < levels_.size(); ++i) {
    Level& level = levels_[i];
    level.push(column);
    if (!level.has_half) {
      level.half = column;
      level.has_half = true;
      return;
    }
    level.half.merge(column);
    level.has_half = false;
    column = level.half;
  }
  // A level more is needed before the highest one forgets.
  if (levels_.back().ring.size() == kReach) add_level();
}

Picture PicturePyramid::window(TimeMs from, TimeMs to, std::size_t most) const {
  Picture out(most);
  std::size_t level = 0;
  while (level + 1 < levels_.size() && !levels_[level].reaches(from)) ++level;
  TimeMs seen = kNoTime;
  // The newest scans have not reached the upper levels yet.
  for (std::size_t k = level + 1; k-- > 0;) {
    if (k >= levels_.size()) continue;
    const Level& source = levels_[k];
    for (std::size_t i = 0; i < source.ring.size(); ++i) {
      const PictureColumn& column = source.at(i);
      if (column.first > to) return out;
      if (column.last < from || (is_set(seen) && column.first <= seen)) {
        continue;
      }
      out.add(column);
      seen = column.last;
    }
  }
  return out;
}

}  // namespace telltale::host
