// ThinnedSeries<T, N>: a whole run in at most N points.
#pragma once

#include <array>
#include <concepts>
#include <cstddef>
#include <cstdint>
#include <type_traits>

#include "telltale/base/assert.hpp"
#include "telltale/base/box.hpp"
#include "telltale/base/box_time.hpp"
#include "telltale/base/fixed16.hpp"
#include "telltale/base/time.hpp"

namespace telltale {

/// How a cell is kept: as it is.
template <std::floating_point R, std::size_t Width>
struct AsIs {
  using Cell = std::array<R, Width>;
  static constexpr Cell pack(const Cell& point) { return point; }
  static constexpr const Cell& unpack(const Cell& cell) { return cell; }
};
/// How a cell is kept: two bytes a number. `Scales::kScales` has one for each.
template <std::floating_point R, std::size_t Width, class Scales>
struct InTwoBytes {
  using Cell = std::array<Fixed16, Width>;
  static constexpr Cell pack(const std::array<R, Width>& point) {
    Cell cell;
    for (std::size_t k = 0; k < Width; ++k) {
      cell[k] = Fixed16(point[k], Scales::kScales[k]);
    }
    return cell;
  }
  static constexpr std::array<R, Width> unpack(const Cell& cell) {
    std::array<R, Width> point{};
    for (std::size_t k = 0; k < Width; ++k) {
      point[k] = cell[k].template value<R>(Scales::kScales[k]);
    }
    return point;
  }
};
/// In two bytes on the box, as they are on the host.
template <std::floating_point R, std::size_t Width, class Scales>
using KeptByRoom =
    std::conditional_t<kOnBox<R>, InTwoBytes<R, Width, Scales>, AsIs<R, Width>>;

/// Means over cells of equal length, oldest first. When N cells are full,
/// neighbours are merged and the cells become twice as long: the series always
/// covers everything since clear(), at a resolution between N / 2 and N
/// points. `Width` numbers are kept per cell.
/// The first cells stand for `kFirst`.
template <std::floating_point R, std::size_t Width, std::size_t N,
          DurationMs kFirst, class Kept = AsIs<R, Width>>
requires(N % 2 == 0 && N >= 4) class ThinnedSeries {
 public:
  using Point = std::array<R, Width>;

  /// Values that stand for `length` of time. REQUIRES: all are finite.
  /// Returns true when that completed a cell.
  bool add(SpanOf<R> length, const Point& values) {
    const R weight = in_ms<R>(length);
    for (std::size_t k = 0; k < Width; ++k) open_[k] += weight * values[k];
    open_ms_ += static_cast<std::uint32_t>(length.ms);
    if (open_ms_ < cell_ms_) return false;
    if (size_ == N) halve();
    for (R& sum : open_) sum /= static_cast<R>(open_ms_);
    cells_[size_] = Kept::pack(open_);
    ++size_;
    open_ = Point{};
    open_ms_ = 0;
    return true;
  }
  void clear() {
    size_ = 0;
    open_ = Point{};
    open_ms_ = 0;
    cell_ms_ = kFirstMs;
  }

  [[nodiscard]] std::size_t size() const { return size_; }
  /// REQUIRES: i < size()
  Point operator[](std::size_t i) const {
    TELLTALE_ASSERT(i < size_);
    return Kept::unpack(cells_[i]);
  }
  /// What a cell stands for, at least.
  [[nodiscard]] SpanOf<R> cell() const { return {cell_ms_}; }
  [[nodiscard]] SpanOf<R> span() const {
    return {std::int64_t{cell_ms_} * static_cast<std::int64_t>(size_)};
  }

 private:
  static constexpr auto kFirstMs = static_cast<std::uint32_t>(kFirst.ms);

  void halve() {
    for (std::size_t i = 0; i < N / 2; ++i) {
      Point mean = Kept::unpack(cells_[2 * i]);
      const Point& second = Kept::unpack(cells_[2 * i + 1]);
      for (std::size_t k = 0; k < Width; ++k) {
        mean[k] = (mean[k] + second[k]) * R(0.5);
      }
      cells_[i] = Kept::pack(mean);
    }
    size_ = N / 2;
    cell_ms_ *= 2;
  }

  std::array<typename Kept::Cell, N> cells_{};
  Point open_{};
  std::uint32_t open_ms_ = 0;
  std::uint32_t cell_ms_ = kFirstMs;
  std::uint16_t size_ = 0;
};

}  // namespace telltale
