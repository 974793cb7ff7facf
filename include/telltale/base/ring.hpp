// Ring<T, N>: the last N items, oldest first, no heap.
#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <type_traits>

#include "telltale/base/assert.hpp"

namespace telltale {

/// A queue of at most N trivially copyable items. Pushing onto a full ring
/// drops the oldest.
template <class T, std::size_t N>
requires(std::is_trivially_copyable_v<T>&& N > 0 && N <= 0xFFFF) class Ring {
 public:
  [[nodiscard]] constexpr std::size_t size() const { return size_; }
  [[nodiscard]] constexpr bool empty() const { return size_ == 0; }
  [[nodiscard]] constexpr bool full() const { return size_ == N; }
  static constexpr std::size_t capacity() { return N; }

  constexpr void push(const T& item) {
    items_[slot(size_)] = item;
    if (full()) {
      first_ = static_cast<std::uint16_t>(slot(1));
    } else {
      ++size_;
    }
  }

  /// Drops the oldest item. REQUIRES: !empty()
  constexpr void pop() {
    TELLTALE_ASSERT(size_ > 0);
    first_ = static_cast<std::uint16_t>(slot(1));
    --size_;
  }
  constexpr void clear() { first_ = size_ = 0; }

  /// Item i counted from the oldest. REQUIRES: i < size()
  constexpr const T& operator[](std::size_t i) const {
    TELLTALE_ASSERT(i < size_);
    return items_[slot(i)];
  }
  constexpr T& operator[](std::size_t i) {
    TELLTALE_ASSERT(i < size_);
    return items_[slot(i)];
  }
  /// Calls f(item) for every item, oldest first.
  template <class F>
  constexpr void for_each(F&& f) const {
    const std::size_t end = std::size_t{first_} + size_;
    const std::size_t before_wrap = end < N ? end : N;
    for (std::size_t i = first_; i < before_wrap; ++i) f(items_[i]);
    for (std::size_t i = N; i < end; ++i) f(items_[i - N]);
  }
  constexpr const T& front() const { return (*this)[0]; }
  constexpr const T& back() const { return (*this)[size_ - 1U]; }
  constexpr T& back() { return (*this)[size_ - 1U]; }

 private:
  [[nodiscard]] constexpr std::size_t slot(std::size_t i) const {
    const std::size_t s = first_ + i;
    return s < N ? s : s - N;
  }

  std::array<T, N> items_{};
  std::uint16_t first_ = 0;
  std::uint16_t size_ = 0;
};

}  // namespace telltale
