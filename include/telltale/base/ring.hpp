// Ring<T, N>: the last N items, oldest first, no heap.
#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <type_traits>

#include "telltale/base/assert.hpp"
#include "telltale/base/out_of_line.hpp"

namespace telltale {

/// What a ring of any capacity holds: for code that is to exist once for all.
template <class T>
class RingView {
 public:
  constexpr RingView(const T* items, std::size_t capacity, std::size_t first,
                     std::size_t size)
      : items_(items), capacity_(capacity), first_(first), size_(size) {}

  [[nodiscard]] constexpr std::size_t size() const { return size_; }
  /// Item i counted from the oldest. REQUIRES: i < size()
  constexpr const T& operator[](std::size_t i) const {
    const std::size_t slot = first_ + i;
    return items_[slot < capacity_ ? slot : slot - capacity_];
  }

 private:
  const T* items_;
  std::size_t capacity_;
  std::size_t first_;
  std::size_t size_;
};

/// Where the items of a ring lie, whatever they are.
class RingPlaces {
 public:
  [[nodiscard]] constexpr std::size_t first() const { return first_; }
  [[nodiscard]] constexpr std::size_t size() const { return size_; }
  /// The slot of item i of a ring of that capacity.
  [[nodiscard]] constexpr std::size_t slot(std::size_t i,
                                           std::size_t capacity) const {
    const std::size_t s = first_ + i;
    return s < capacity ? s : s - capacity;
  }
  /// The slot of one more item; of a full ring that of the oldest.
  TELLTALE_OUT_OF_LINE constexpr std::size_t add(std::size_t capacity) {
    const std::size_t at = slot(size_, capacity);
    if (size_ == capacity) {
      first_ = static_cast<std::uint16_t>(slot(1, capacity));
    } else {
      ++size_;
    }
    return at;
  }
  constexpr void drop_oldest(std::size_t capacity) {
    first_ = static_cast<std::uint16_t>(slot(1, capacity));
    --size_;
  }
  constexpr void clear() { first_ = size_ = 0; }

 private:
  std::uint16_t first_ = 0;
  std::uint16_t size_ = 0;
};

/// A queue of at most N trivially copyable items. Pushing onto a full ring
/// drops the oldest.
template <class T, std::size_t N>
requires(std::is_trivially_copyable_v<T>&& N > 0 && N <= 0xFFFF) class Ring {
 public:
  [[nodiscard]] constexpr std::size_t size() const { return places_.size(); }
  [[nodiscard]] constexpr bool empty() const { return size() == 0; }
  [[nodiscard]] constexpr bool full() const { return size() == N; }
  static constexpr std::size_t capacity() { return N; }

  constexpr void push(const T& item) { items_[places_.add(N)] = item; }

  /// Drops the oldest item. REQUIRES: !empty()
  constexpr void pop() {
    TELLTALE_ASSERT(size() > 0);
    places_.drop_oldest(N);
  }
  constexpr void clear() { places_.clear(); }

  /// Item i counted from the oldest. REQUIRES: i < size()
  constexpr const T& operator[](std::size_t i) const {
    TELLTALE_ASSERT(i < size());
    return items_[places_.slot(i, N)];
  }
  constexpr T& operator[](std::size_t i) {
    TELLTALE_ASSERT(i < size());
    return items_[places_.slot(i, N)];
  }
  /// Calls f(item) for every item, oldest first.
  template <class F>
  constexpr void for_each(F&& f) const {
    std::size_t at = places_.first();
    for (std::size_t n = size(); n > 0; --n) {
      f(items_[at]);
      at = at + 1 < N ? at + 1 : 0;
    }
  }
  /// Good until the next change of this ring.
  [[nodiscard]] constexpr RingView<T> view() const {
    return {items_.data(), N, places_.first(), size()};
  }
  constexpr const T& front() const { return (*this)[0]; }
  constexpr const T& back() const { return (*this)[size() - 1]; }
  constexpr T& back() { return (*this)[size() - 1]; }

 private:
  std::array<T, N> items_{};
  RingPlaces places_;
};

}  // namespace telltale
