// PictureStore: keeps the pictures of many runs and logs within bounds.
#pragma once

#include <cstddef>
#include <memory>
#include <vector>

#include "summary/run_picture.hpp"

namespace telltale::host {

/// All pictures together never take more than a budget: when they would, the
/// one with most detail for its worth loses half of it, again and again. An
/// extreme is never lost by that; only a picture of hardly any columns is given
/// up whole.
class PictureStore {
 public:
  /// Some 14 MB.
  static constexpr std::size_t kMostColumns = 60'000;

  explicit PictureStore(std::size_t most_columns = kMostColumns)
      : most_(most_columns) {}

  /// `worth`: how much finer than others this one may be; above 0.
  void keep(std::shared_ptr<RunPicture> picture, double worth);
  void keep(std::shared_ptr<Picture> picture, double worth);

  /// Columns of all pictures kept.
  [[nodiscard]] std::size_t columns() const { return columns_; }

 private:
  static constexpr std::size_t kFewest = 24;

  struct Entry {
    std::shared_ptr<RunPicture> run;
    std::shared_ptr<Picture> picture;  // the run's overview, or a close-up
    double worth = 1.0;
    std::size_t cost = 0;

    [[nodiscard]] std::size_t count() const;
  };

  void add(Entry entry);
  void shrink(Entry& entry);

  std::vector<Entry> entries_;
  std::size_t most_;
  std::size_t columns_ = 0;
};

}  // namespace telltale::host
