// Remembers the last hundred thousand rows or more by their fingerprints.
#pragma once

#include <algorithm>
#include <cstddef>
#include <cstdint>
#include <cstring>
#include <string_view>
#include <utility>
#include <vector>

namespace telltale::host {

/// A 64-bit fingerprint of a text: 32 bytes at a time, multiplied and folded.
/// Different rows agree by chance alone: once in some 10^19 pairs.
inline std::uint64_t fingerprint(std::string_view text, std::uint64_t seed) {
  constexpr std::uint64_t kOdd = 0x9E3779B97F4A7C15U;  // 2^64 / golden ratio
  const auto mix = [](std::uint64_t h, std::uint64_t word) {
    h = (h ^ word) * kOdd;
    return h ^ (h >> 32);
  };
  // Four chains, so that one multiplication need not wait for the other.
  std::uint64_t a = seed + kOdd;
  std::uint64_t b = seed + 2 * kOdd;
  std::uint64_t c = seed + 3 * kOdd;
  std::uint64_t d = seed + 4 * kOdd;
  const auto take = [&](const std::uint64_t(&words)[4]) {
    a = mix(a, words[0]);
    b = mix(b, words[1]);
    c = mix(c, words[2]);
    d = mix(d, words[3]);
  };
  const char* at = text.data();
  std::size_t left = text.size();
  for (; left >= 32; at += 32, left -= 32) {
    std::uint64_t words[4];
    std::memcpy(words, at, 32);
    take(words);
  }
  std::uint64_t words[4] = {0, 0, 0, 0};
  if (left > 0 && text.size() >= 32) {
    // The last 32, some of them once more: whole words are read faster than
    // an odd number of bytes.
    std::memcpy(words, text.data() + text.size() - 32, 32);
    take(words);
  } else if (left > 0) {
    std::memcpy(words, at, left);
    take(words);
  }
  return mix(mix(mix(mix(text.size(), a), b), c), d);
}

/// Two generations of fingerprints: the last kGeneration rows are always
/// known, rows before that for a while. Bounded: 5 MiB. Most logs never ask;
/// until one does, fingerprints are only noted down.
class DuplicateSet {
 public:
  static constexpr std::size_t kGeneration = std::size_t{1} << 17;

  [[nodiscard]] bool contains(std::uint64_t print) {
    enter_noted();
    return young_.contains(print) || old_.contains(print);
  }

  void insert(std::uint64_t print) {
    if (count_ < kGeneration) {
      noted_.push_back(print);
    } else {
      noted_[count_ % kGeneration] = print;
    }
    ++count_;
  }

 private:
  // Open addressing at most half full; 0 marks a free place.
  class Table {
   public:
    [[nodiscard]] std::size_t size() const { return size_; }
    [[nodiscard]] bool contains(std::uint64_t print) const {
      if (size_ == 0) return false;
      if (print == 0) print = 1;
      for (std::size_t i = place(print);; i = (i + 1) & kMask) {
        if (cells_[i] == print) return true;
        if (cells_[i] == 0) return false;
      }
    }
    void insert(std::uint64_t print) {
      if (cells_.empty()) cells_.assign(kMask + 1, 0);
      if (print == 0) print = 1;
      std::size_t i = place(print);
      while (cells_[i] != 0 && cells_[i] != print) i = (i + 1) & kMask;
      if (cells_[i] == 0) ++size_;
      cells_[i] = print;
    }
    void clear() {
      cells_.assign(cells_.size(), 0);
      size_ = 0;
    }

   private:
    static constexpr std::size_t kMask = 2 * kGeneration - 1;
    static std::size_t place(std::uint64_t print) { return print & kMask; }
    std::vector<std::uint64_t> cells_;
    std::size_t size_ = 0;
  };

  void enter_noted() {
    entered_ = std::max(entered_, count_ - std::min(count_, noted_.size()));
    for (; entered_ < count_; ++entered_) {
      if (young_.size() >= kGeneration) {
        std::swap(young_, old_);
        young_.clear();
      }
      young_.insert(noted_[entered_ % kGeneration]);
    }
  }

  std::vector<std::uint64_t> noted_;  // the last ones, as a ring
  std::size_t count_ = 0;
  std::size_t entered_ = 0;
  Table young_;
  Table old_;
};

}  // namespace telltale::host
