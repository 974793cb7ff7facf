// DurationHistogram: how long an alarm stands when it comes.
#pragma once

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdint>
#include <limits>

namespace telltale::host {

/// Counts spans of time: whole seconds below a minute one by one, longer ones
/// in steps of a quarter octave (19 %). Fixed memory.
class DurationHistogram {
 public:
  void add(double seconds) {
    ++counts_[bin_of(seconds)];
    ++total_;
  }
  [[nodiscard]] std::uint64_t total() const { return total_; }

  /// The median: exact to the second below a minute, else to 10 %. NaN where
  /// nothing was counted.
  [[nodiscard]] double median() const {
    std::uint64_t before = 0;
    for (std::size_t i = 0; i < counts_.size(); ++i) {
      before += counts_[i];
      if (total_ > 0 && before * 2 >= total_) return middle_of(i);
    }
    return std::numeric_limits<double>::quiet_NaN();
  }

 private:
  static constexpr std::size_t kSeconds = 60;
  static constexpr double kSteps = 4.0;  // an octave
  static constexpr std::size_t kBins = kSeconds + 88;

  static std::size_t bin_of(double seconds) {
    if (!(seconds > 0.0)) return 0;
    if (seconds < static_cast<double>(kSeconds)) {
      return static_cast<std::size_t>(seconds);
    }
    const auto step = static_cast<std::size_t>(
        kSteps * std::log2(seconds / static_cast<double>(kSeconds)));
    return std::min(kSeconds + step, kBins - 1);
  }
  static double middle_of(std::size_t bin) {
    if (bin < kSeconds) return static_cast<double>(bin);
    const double step = static_cast<double>(bin - kSeconds) + 0.5;
    return static_cast<double>(kSeconds) * std::exp2(step / kSteps);
  }

  std::array<std::uint32_t, kBins> counts_{};
  std::uint64_t total_ = 0;
};

}  // namespace telltale::host
