// JudgedScan: what is written down of a scan of a run once it is judged.
#pragma once

#include <array>
#include <bit>
#include <cstdint>

#include "ingest/row.hpp"
#include "report/health_report.hpp"
#include "telltale/base/bits.hpp"
#include "telltale/condition/phase.hpp"

namespace telltale::host {

/// A Moment without what points elsewhere, so that it can be looked at later
/// and on another thread. Small: what one core writes and another reads goes
/// from cache to cache line by line, and here no line is of two scans.
struct alignas(64) JudgedScan {
  TimeMs at = kNoTime;
  double load_pct = 0.0;
  std::int32_t interval_ms = 0;
  ChannelMask good = 0;
  Phase phase = Phase::unknown;
  bool load_rated = false;
  bool steady = false;
  bool sagging = false;  // speed below its level: a sag, or a stop to come
  bool step_began = false;
  /// The readings of the good channels, one after the other.
  std::array<double, kChannelCount> readings{};

  void read(ChannelMask channels,
            const std::array<double, kChannelCount>& values) {
    good = channels;
    std::size_t n = 0;
    for_each_bit(channels, [&](std::size_t i) { readings[n++] = values[i]; });
  }
  [[nodiscard]] bool is_good(Channel channel) const {
    return (good & bit(channel)) != 0;
  }
  /// REQUIRES: is_good(channel)
  [[nodiscard]] double operator[](Channel channel) const {
    const ChannelMask before = good & (bit(channel) - 1U);
    return readings[static_cast<std::size_t>(std::popcount(before))];
  }
};

/// What few scans have to say besides.
struct ScanNote {
  LogPlace place;              // of the scan's row
  double step_from_pct = 0.0;  // load before the last step
  /// Where the phase is another than that of the scan before: when it began,
  /// which may be told in hindsight, and where in the log.
  TimeMs phase_since = kNoTime;
  LogPlace phase_place;
};

}  // namespace telltale::host
