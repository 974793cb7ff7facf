// StaticVector<T, N>: a vector with room for N and no heap.
#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <span>
#include <type_traits>

#include "telltale/base/assert.hpp"

namespace telltale {

/// Holds up to N trivially copyable items. `push_back` on a full vector
/// returns false and changes nothing: the caller decides what to lose.
template <class T, std::size_t N>
requires std::is_trivially_copyable_v<T>
class StaticVector {
 public:
  [[nodiscard]] constexpr std::size_t size() const { return size_; }
  [[nodiscard]] constexpr bool empty() const { return size_ == 0; }
  [[nodiscard]] constexpr bool full() const { return size_ == N; }
  static constexpr std::size_t capacity() { return N; }

  constexpr bool push_back(const T& item) {
    if (full()) return false;
    items_[size_++] = item;
    return true;
  }
  constexpr void clear() { size_ = 0; }

  /// REQUIRES: i < size()
  constexpr T& operator[](std::size_t i) {
    TELLTALE_ASSERT(i < size_);
    return items_[i];
  }
  constexpr const T& operator[](std::size_t i) const {
    TELLTALE_ASSERT(i < size_);
    return items_[i];
  }
  constexpr T& back() { return (*this)[size_ - 1U]; }
  constexpr const T& back() const { return (*this)[size_ - 1U]; }

  constexpr T* begin() { return items_.data(); }
  constexpr T* end() { return items_.data() + size_; }
  constexpr const T* begin() const { return items_.data(); }
  constexpr const T* end() const { return items_.data() + size_; }

  /// Valid until the next change of this vector.
  [[nodiscard]] constexpr std::span<const T> view() const {
    return {items_.data(), size_};
  }

 private:
  std::array<T, N> items_{};
  std::uint16_t size_ = 0;

  static_assert(N <= 0xFFFF);
};

}  // namespace telltale
