// insertion_sort: for a few items, in a few instructions of code.
#pragma once

#include <cstddef>
#include <span>

namespace telltale {

/// Sorts upwards. Cost grows with the square of the size: some dozens at most.
template <class T>
constexpr void insertion_sort(std::span<T> items) {
  for (std::size_t i = 1; i < items.size(); ++i) {
    const T item = items[i];
    std::size_t place = i;
    for (; place > 0 && item < items[place - 1]; --place) {
      items[place] = items[place - 1];
    }
    items[place] = item;
  }
}

}  // namespace telltale
