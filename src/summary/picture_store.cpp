#include "summary/picture_store.hpp"

#include <algorithm>
#include <utility>

namespace telltale::host {

std::size_t PictureStore::Entry::count() const {
  std::size_t n = picture->columns().size();
  // Cells of a scatter take a good part of a column each.
  if (run) n += (run->oil.cells.size() + run->droop.cells.size()) / 3;
  return n;
}

void PictureStore::keep(std::shared_ptr<RunPicture> picture, double worth) {
  const std::shared_ptr<Picture> overview(picture, &picture->overview);
  add({std::move(picture), overview, worth, 0});
}

void PictureStore::keep(std::shared_ptr<Picture> picture, double worth) {
  add({nullptr, std::move(picture), worth, 0});
}

void PictureStore::add(Entry entry) {
  entry.picture->trim();
  entry.cost = entry.count();
  columns_ += entry.cost;
  entries_.push_back(std::move(entry));
  while (columns_ > most_) {
    const auto finest = std::max_element(
        entries_.begin(), entries_.end(), [](const Entry& a, const Entry& b) {
          return static_cast<double>(a.cost) / a.worth <
                 static_cast<double>(b.cost) / b.worth;
        });
    shrink(*finest);
    if (finest->cost == 0) entries_.erase(finest);
  }
}

void PictureStore::shrink(Entry& entry) {
  columns_ -= entry.cost;
  if (entry.picture->columns().size() <= kFewest) {
    *entry.picture = Picture();
    if (entry.run) {
      entry.run->oil.cells.clear();
      entry.run->droop.cells.clear();
    }
  } else {
    entry.picture->coarsen();
    entry.picture->trim();
    if (entry.run) {
      entry.run->oil.cells.coarsen();
      entry.run->droop.cells.coarsen();
    }
  }
  entry.cost = entry.count();
  columns_ += entry.cost;
}

}  // namespace telltale::host
