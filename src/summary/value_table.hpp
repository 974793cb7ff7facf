// ValueTable: the different values of a stream and the weight of each.
#pragma once

#include <bit>
#include <cstddef>
#include <cstdint>
#include <span>
#include <vector>

namespace telltale::host {

struct WeightedValue {
  double x = 0.0;
  double weight = 0.0;
};

/// A hash table by the value's bits, open addressing; it grows with the number
/// of different values, so that few of them stay close together in memory.
class ValueTable {
 public:
  /// So many different values at most.
  static constexpr std::size_t kMost = 4096;

  /// False, with nothing done, where x is one value too many. REQUIRES: x is
  /// finite, weight is above 0.
  bool add(double x, double weight) {
    WeightedValue& slot = slots_[place_of(x)];
    if (slot.weight == 0.0) return add_new(slot, {x, weight});
    slot.weight += weight;
    return true;
  }

  /// As add() for each, until one is too many; how many were taken.
  std::size_t add(std::span<const double> values, double weight) {
    std::size_t taken = 0;
    while (taken < values.size() && add(values[taken], weight)) ++taken;
    return taken;
  }

  /// All of them, by rising value.
  [[nodiscard]] std::vector<WeightedValue> sorted() const;
  /// Gives its memory back; it is empty then.
  void clear();

 private:
  static constexpr int kFirstBits = 6;

  /// Where x is, or the free slot where it belongs.
  [[nodiscard]] std::size_t place_of(double x) const {
    // Fibonacci hashing; + 0.0 makes -0 and 0 one value.
    const auto bits = std::bit_cast<std::uint64_t>(x + 0.0);
    auto i = static_cast<std::size_t>((bits * 0x9E3779B97F4A7C15ULL) >>
                                      (64 - bits_));
    while (slots_[i].weight > 0.0 && slots_[i].x != x) {
      i = (i + 1) & (slots_.size() - 1);
    }
    return i;
  }
  bool add_new(WeightedValue& slot, WeightedValue value);

  int bits_ = kFirstBits;
  std::vector<WeightedValue> slots_ = std::vector<WeightedValue>(
      std::size_t{1} << kFirstBits);  // weight 0: free
  std::size_t used_ = 0;
};

}  // namespace telltale::host
