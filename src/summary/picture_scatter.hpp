// PictureScatter: one channel against another, reduced to cells that keep every
// extreme.
#pragma once

#include <cstddef>
#include <cstdint>
#include <unordered_map>
#include <vector>

#include "summary/picture.hpp"

namespace telltale::host {

/// Pairs of readings in cells of a grid; when there are too many cells, the
/// grid becomes twice as coarse. A cell keeps the true extent of its readings.
class PictureScatter {
 public:
  static constexpr std::size_t kMostCells = 700;

  struct Cell {
    Range x;
    Range y;
    std::uint64_t readings = 0;
    double ms_sum = 0.0;  // of the times since the first pair

    void merge(const Cell& other);
    /// Mean time of the readings, ms since the first pair.
    [[nodiscard]] double mean_ms() const {
      return ms_sum / static_cast<double>(readings);
    }
  };

  /// The finest cell that makes sense, in the units of the two channels.
  PictureScatter(double x_step, double y_step)
      : x_step_(x_step), y_step_(y_step) {}
  PictureScatter(const PictureScatter&) = delete;
  PictureScatter& operator=(const PictureScatter&) = delete;

  /// REQUIRES: x and y are finite.
  void add(TimeMs at, double x, double y);

  /// A grid twice as coarse.
  void coarsen();
  void clear();

  [[nodiscard]] bool empty() const { return cells_.empty(); }
  [[nodiscard]] std::size_t size() const { return cells_.size(); }
  /// In no particular order, at most so many: on a coarser grid, if need be.
  [[nodiscard]] std::vector<Cell> cells(std::size_t most = kMostCells) const;

 private:
  using Key = std::uint64_t;
  using Cells = std::unordered_map<Key, Cell>;

  static Key key_of(double x, double y, double x_step, double y_step);
  static Cells merged(const Cells& cells, double x_step, double y_step);

  Cells cells_;
  Key last_key_ = 0;
  Cell* last_ = nullptr;  // most readings fall where the one before fell
  TimeMs first_ = kNoTime;
  double x_step_;
  double y_step_;
};

}  // namespace telltale::host
