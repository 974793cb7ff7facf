// PSquare<R>: one quantile of a stream in five numbers.
#pragma once

#include <algorithm>
#include <array>
#include <concepts>
#include <cstddef>
#include <cstdint>
#include <limits>

namespace telltale {

/// The P-square estimate of the p-quantile: Jain and Chlamtac,
/// Communications of the ACM 28(10), 1985. Constant memory; poor on fewer than
/// some fifty samples and on strongly clustered values.
template <std::floating_point R>
class PSquare {
 public:
  /// REQUIRES: 0 < p < 1
  constexpr explicit PSquare(R p) : p_(p) {}

  /// REQUIRES: x is finite.
  constexpr void add(R x) {
    if (count_ < kMarkers) {
      height_[count_++] = x;
      if (count_ == kMarkers) std::sort(height_.begin(), height_.end());
      return;
    }
    ++count_;
    const std::size_t cell = locate(x);
    for (std::size_t i = cell + 1; i < kMarkers; ++i) ++position_[i];
    for (std::size_t i = 1; i + 1 < kMarkers; ++i) adjust(i);
  }

  [[nodiscard]] constexpr std::uint32_t count() const { return count_; }
  /// The estimate; of the sorted samples themselves up to five; NaN if none.
  [[nodiscard]] constexpr R value() const {
    if (count_ == 0) return std::numeric_limits<R>::quiet_NaN();
    if (count_ >= kMarkers) return height_[2];
    auto sorted = height_;
    std::sort(sorted.begin(),
              sorted.begin() + static_cast<std::ptrdiff_t>(count_));
    return sorted[static_cast<std::size_t>(p_ * static_cast<R>(count_))];
  }
  /// Marker i of 0..4, for tests. REQUIRES: five samples were added.
  [[nodiscard]] constexpr R marker(std::size_t i) const { return height_[i]; }
  [[nodiscard]] constexpr std::uint32_t marker_position(std::size_t i) const {
    return position_[i];
  }

 private:
  static constexpr std::size_t kMarkers = 5;

  constexpr std::size_t locate(R x) {
    if (x < height_[0]) {
      height_[0] = x;
      return 0;
    }
    if (x >= height_[4]) {
      if (x > height_[4]) height_[4] = x;
      return 3;
    }
    std::size_t cell = 0;
    while (x >= height_[cell + 1]) ++cell;
    return cell;
  }
  /// Where marker i should stand: 1, 1 + (n-1) p/2, 1 + (n-1) p, ...
  [[nodiscard]] constexpr R desired(std::size_t i) const {
    const R share[kMarkers] = {R(0), p_ / R(2), p_, (R(1) + p_) / R(2), R(1)};
    return R(1) + static_cast<R>(count_ - 1U) * share[i];
  }
  constexpr void adjust(std::size_t i) {
    const R off = desired(i) - static_cast<R>(position_[i]);
    const bool up = off >= R(1) && position_[i + 1] > position_[i] + 1U;
    const bool down = off <= R(-1) && position_[i] > position_[i - 1] + 1U;
    if (!up && !down) return;
    const R curved = parabolic(i, up ? R(1) : R(-1));
    const bool fits = height_[i - 1] < curved && curved < height_[i + 1];
    height_[i] = fits ? curved : linear(i, up);
    up ? ++position_[i] : --position_[i];
  }
  [[nodiscard]] constexpr R parabolic(std::size_t i, R d) const {
    const R low = static_cast<R>(position_[i] - position_[i - 1]);
    const R high = static_cast<R>(position_[i + 1] - position_[i]);
    return height_[i] + d / (low + high) *
                            ((low + d) * (height_[i + 1] - height_[i]) / high +
                             (high - d) * (height_[i] - height_[i - 1]) / low);
  }
  [[nodiscard]] constexpr R linear(std::size_t i, bool up) const {
    const std::size_t j = up ? i + 1 : i - 1;
    const R run = up ? static_cast<R>(position_[j] - position_[i])
                     : -static_cast<R>(position_[i] - position_[j]);
    return height_[i] + (up ? R(1) : R(-1)) * (height_[j] - height_[i]) / run;
  }

  R p_;
  std::array<R, kMarkers> height_{};
  std::array<std::uint32_t, kMarkers> position_{1, 2, 3, 4, 5};
  std::uint32_t count_ = 0;
};

}  // namespace telltale
