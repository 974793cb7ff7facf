// ThinnedSeries<T, N>: a whole run in at most N points.
#pragma once

#include <array>
#include <concepts>
#include <cstddef>
#include <cstdint>

#include "telltale/base/assert.hpp"
#include "telltale/base/time.hpp"

namespace telltale {

/// Means over cells of equal length, oldest first. When N cells are full,
/// neighbours are merged and the cells become twice as long: the series always
/// covers everything since clear(), at a resolution between N / 2 and N
/// points. `Width` numbers are kept per cell.
template <std::floating_point R, std::size_t Width, std::size_t N>
requires(N % 2 == 0 && N >= 4) class ThinnedSeries {
 public:
  using Point = std::array<R, Width>;

  constexpr explicit ThinnedSeries(DurationMs first_cell)
      : first_cell_ms_(static_cast<std::uint32_t>(first_cell.ms)),
        cell_ms_(first_cell_ms_) {}

  /// Values that stand for `length` of time. REQUIRES: all are finite.
  /// Returns true when that completed a cell.
  bool add(DurationMs length, const Point& values) {
    const R weight = static_cast<R>(length.ms);
    for (std::size_t k = 0; k < Width; ++k) open_[k] += weight * values[k];
    open_ms_ += static_cast<std::uint32_t>(length.ms);
    if (open_ms_ < cell_ms_) return false;
    if (size_ == N) halve();
    for (std::size_t k = 0; k < Width; ++k) {
      cells_[size_][k] = open_[k] / static_cast<R>(open_ms_);
    }
    ++size_;
    open_ = Point{};
    open_ms_ = 0;
    return true;
  }
  void clear() {
    size_ = 0;
    open_ = Point{};
    open_ms_ = 0;
    cell_ms_ = first_cell_ms_;
  }

  [[nodiscard]] std::size_t size() const { return size_; }
  /// REQUIRES: i < size()
  const Point& operator[](std::size_t i) const {
    TELLTALE_ASSERT(i < size_);
    return cells_[i];
  }
  /// What a cell stands for, at least.
  [[nodiscard]] DurationMs cell() const { return {cell_ms_}; }
  [[nodiscard]] DurationMs span() const {
    return {std::int64_t{cell_ms_} * static_cast<std::int64_t>(size_)};
  }

 private:
  void halve() {
    for (std::size_t i = 0; i < N / 2; ++i) {
      for (std::size_t k = 0; k < Width; ++k) {
        cells_[i][k] = (cells_[2 * i][k] + cells_[2 * i + 1][k]) * R(0.5);
      }
    }
    size_ = N / 2;
    cell_ms_ *= 2;
  }

  std::array<Point, N> cells_{};
  Point open_{};
  std::uint32_t open_ms_ = 0;
  std::uint32_t first_cell_ms_;
  std::uint32_t cell_ms_;
  std::uint16_t size_ = 0;
};

}  // namespace telltale
