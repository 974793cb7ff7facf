#include "summary/picture.hpp"

namespace telltale::host {

void PictureColumn::merge(const PictureColumn& later) {
  last = later.last;
  blank |= later.blank;
  alarms |= later.alarms;
  for (std::size_t i = 0; i < kTrackCount; ++i) range[i].add(later.range[i]);
}

void Picture::add(const PictureColumn& scans) {
  if (!columns_.empty() &&
      slot_of(scans.first) == slot_of(columns_.back().first)) {
    columns_.back().merge(scans);
    return;
  }
  while (columns_.size() >= most_) {
    coarsen();
    if (slot_of(scans.first) == slot_of(columns_.back().first)) {
      columns_.back().merge(scans);
      return;
    }
  }
  columns_.push_back(scans);
}

void Picture::coarsen() {
  width_ms_ *= 2;
  if (columns_.empty()) return;
  std::size_t kept = 0;
  for (std::size_t i = 1; i < columns_.size(); ++i) {
    if (slot_of(columns_[i].first) == slot_of(columns_[kept].first)) {
      columns_[kept].merge(columns_[i]);
    } else {
      columns_[++kept] = columns_[i];
    }
  }
  columns_.resize(kept + 1);
}

Range Picture::range_of(std::size_t track) const {
  Range all;
  for (const PictureColumn& column : columns_) all.add(column.range[track]);
  return all;
}

}  // namespace telltale::host
