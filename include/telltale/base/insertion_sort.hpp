// insertion_sort: for a few items, in a few instructions of code.
#pragma once

#include <cstddef>
#include <span>

namespace telltale {

/// Sorts `items` upwards into `sorted`, which may be the same place. Cost grows
/// with the square of the size: some dozens at most. REQUIRES: `sorted` has
/// room for all
template <class T>
constexpr void insertion_sort(std::span<const T> items, std::span<T> sorted) {
  for (std::size_t i = 0; i < items.size(); ++i) {
    const T item = items[i];
    std::size_t place = i;
    for (; place > 0 && item < sorted[place - 1]; --place) {
      sorted[place] = sorted[place - 1];
    }
    sorted[place] = item;
  }
}
template <class T>
constexpr void insertion_sort(std::span<T> items) {
  insertion_sort(std::span<const T>(items), items);
}

}  // namespace telltale
