// Resolution<R>: the smallest step each channel has been seen to make.
#pragma once

#include <array>
#include <bit>
#include <concepts>
#include <cstddef>
#include <limits>

#include "telltale/acquire/frame.hpp"

namespace telltale {

/// Learnt from the readings themselves: the smallest change between two
/// successive good ones. A channel in whole degrees shows 1; a noisy channel
/// with many digits soon shows next to nothing.
template <std::floating_point R>
class Resolution {
 public:
  Resolution() { reset(); }

  void step(const Frame<R>& frame) {
    for (std::size_t i = 0; i < kChannelCount; ++i) {
      const Reading<R>& reading = frame.readings[i];
      if (!reading.good()) continue;
      const R moved = reading.value > last_[i] ? reading.value - last_[i]
                                               : last_[i] - reading.value;
      // Comparing against NaN, the first time, is false.
      if (moved > R(0) && moved < step_[i]) step_[i] = moved;
      last_[i] = reading.value;
    }
  }
  void reset() {
    last_.fill(std::numeric_limits<R>::quiet_NaN());
    step_.fill(std::numeric_limits<R>::infinity());
  }

  /// 0 where the channel has never moved.
  [[nodiscard]] R of(Channel channel) const {
    const R step = step_[index_of(channel)];
    return step < std::numeric_limits<R>::infinity() ? step : R(0);
  }

 private:
  std::array<R, kChannelCount> last_{};
  std::array<R, kChannelCount> step_{};
};

}  // namespace telltale
