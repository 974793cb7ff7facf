// ChannelFigures: what a report says of one channel of one run.
#pragma once

#include <array>
#include <bit>
#include <cstddef>
#include <cstdint>
#include <optional>
#include <vector>

#include "telltale/acquire/channel.hpp"

namespace telltale::host {

/// What a report says of a channel. Values in the channel's canonical unit.
struct ChannelFigures {
  std::uint64_t samples = 0;
  double mean = 0.0;
  double sd = 0.0;  // population
  double min = 0.0;
  double p05 = 0.0;
  double median = 0.0;
  double p95 = 0.0;
  double max = 0.0;
};

/// The figures of the channels that have any, and no room for the others: a log
/// of years holds many thousand of these.
class FiguresByChannel {
 public:
  using All = std::array<std::optional<ChannelFigures>, kChannelCount>;

  FiguresByChannel() = default;
  explicit FiguresByChannel(const All& all) {
    for (std::size_t i = 0; i < kChannelCount; ++i) {
      if (all[i]) present_ |= ChannelMask{1} << i;
    }
    figures_.reserve(static_cast<std::size_t>(std::popcount(present_)));
    for (const auto& figures : all) {
      if (figures) figures_.push_back(*figures);
    }
  }

  /// Of the channel with this index; null where there are none.
  const ChannelFigures* operator[](std::size_t channel) const {
    const ChannelMask one = ChannelMask{1} << channel;
    if ((present_ & one) == 0) return nullptr;
    const int before = std::popcount(present_ & (one - 1U));
    return &figures_[static_cast<std::size_t>(before)];
  }

 private:
  ChannelMask present_ = 0;
  std::vector<ChannelFigures> figures_;
};

}  // namespace telltale::host
