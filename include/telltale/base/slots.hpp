// Slots<T, N>: room for N items under small keys, taken as they are needed.
#pragma once

#include <array>
#include <cstddef>
#include <cstdint>

namespace telltale {

/// For what few of many channels ever need at the same time.
template <class T, std::size_t N>
requires(N > 0 && N < 0xFF) class Slots {
 public:
  struct Slot {
    [[no_unique_address]] T item{};
    std::uint8_t key = 0;  // may lie in the item's padding
  };

  /// nullptr where there is none under that key.
  T* find(std::size_t key) {
    for (std::size_t i = 0; i < size_; ++i) {
      if (slots_[i].key == key) return &slots_[i].item;
    }
    return nullptr;
  }
  /// The item under that key, a fresh one if there is none yet; nullptr where
  /// all slots are taken.
  T* get(std::size_t key) {
    if (T* const known = find(key)) return known;
    if (size_ == N) return nullptr;
    Slot& fresh = slots_[size_++];
    fresh = {T{}, static_cast<std::uint8_t>(key)};
    return &fresh.item;
  }
  void clear() { size_ = 0; }

  Slot* begin() { return slots_.data(); }
  Slot* end() { return slots_.data() + size_; }
  [[nodiscard]] const Slot* begin() const { return slots_.data(); }
  [[nodiscard]] const Slot* end() const { return slots_.data() + size_; }

 private:
  std::array<Slot, N> slots_{};
  std::uint8_t size_ = 0;
};

}  // namespace telltale
