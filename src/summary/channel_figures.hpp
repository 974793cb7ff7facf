// ChannelFigures: what a report says of one channel of one run.
#pragma once

#include <cstdint>

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

}  // namespace telltale::host
