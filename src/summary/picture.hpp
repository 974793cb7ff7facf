// Picture: readings over time, reduced to the columns a screen can show with
// every extreme kept.
#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <limits>
#include <vector>

#include "telltale/acquire/channel.hpp"
#include "telltale/acquire/engine_state.hpp"
#include "telltale/base/time.hpp"

namespace telltale::host {

/// What a picture can show: every channel, and the load as it was judged.
inline constexpr std::size_t kLoadTrack = kChannelCount;  // % (see Moment)
inline constexpr std::size_t kTrackCount = kChannelCount + 1;

/// Lowest and highest of some readings, in the channel's canonical unit.
struct Range {
  float low = std::numeric_limits<float>::infinity();
  float high = -std::numeric_limits<float>::infinity();

  [[nodiscard]] bool empty() const { return !(low <= high); }
  /// NaN changes nothing.
  void add(float x) {
    low = x < low ? x : low;
    high = x > high ? x : high;
  }
  void add(const Range& other) {
    low = other.low < low ? other.low : low;
    high = other.high > high ? other.high : high;
  }
};

/// One scan, or several in a row that share a column of the screen.
struct PictureColumn {
  TimeMs first = kNoTime;  // analysis clock, of the first scan
  TimeMs last = kNoTime;   // of the last
  ChannelMask blank = 0;   // channels that should have had a reading here
  AlarmMask alarms = 0;    // that stood in any of the scans
  std::array<Range, kTrackCount> range{};

  void merge(const PictureColumn& later);
};

/// Columns of equal time, as fine as their number allows. When there are too
/// many, each two become one; no reading ever leaves their ranges.
class Picture {
 public:
  static constexpr std::size_t kMostColumns = 1600;

  /// REQUIRES: most >= 2
  explicit Picture(std::size_t most = kMostColumns) : most_(most) {}

  /// The next scan, or several that were merged. REQUIRES: times rise.
  void add(const PictureColumn& scans);
  /// Columns of twice the time.
  void coarsen();
  /// Gives back memory that was meant for more columns.
  void trim() { columns_.shrink_to_fit(); }

  [[nodiscard]] const std::vector<PictureColumn>& columns() const {
    return columns_;
  }
  [[nodiscard]] bool empty() const { return columns_.empty(); }
  /// REQUIRES: !empty()
  [[nodiscard]] TimeMs from() const { return columns_.front().first; }
  [[nodiscard]] TimeMs to() const { return columns_.back().last; }
  /// Lowest and highest of a track over all columns.
  [[nodiscard]] Range range_of(std::size_t track) const;
  /// Whether the track has a reading at all.
  [[nodiscard]] bool has(std::size_t track) const {
    return !range_of(track).empty();
  }

 private:
  [[nodiscard]] std::int64_t slot_of(TimeMs at) const {
    return (at - columns_.front().first).ms / width_ms_;
  }

  std::vector<PictureColumn> columns_;
  std::size_t most_;
  std::int64_t width_ms_ = 1;
};

}  // namespace telltale::host
